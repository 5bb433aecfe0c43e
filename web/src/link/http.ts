// What the page asks of the program by HTTP. Every refusal is one sentence.
import type { ArchetypeList, ArchetypeText, FaultDocument, FieldList, MakeRequest, PhotoReading, ProjectText, QuickDocument, QuickRequest, Saved, StoredPhoto } from '../wire'

export class Refused extends Error {
  readonly status: number
  readonly key: string | null

  constructor(status: number, sentence: string, key: string | null) {
    super(sentence)
    this.status = status
    this.key = key
  }

  /** The sentence as it stands at its own field, which need not be named again. */
  get atField(): string {
    return this.key && this.message.startsWith(`${this.key}: `) ? this.message.slice(this.key.length + 2) : this.message
  }
}

const GONE = 'The program does not answer. It may have been stopped: start it again with "leverwright open". What you have on this page is still here.'

async function asked(path: string, init?: RequestInit): Promise<Response> {
  let response: Response
  try {
    response = await fetch(path, init)
  } catch {
    throw new Refused(0, GONE, null)
  }
  if (response.ok) return response
  const said = (await response.json().catch(() => null)) as FaultDocument | null
  throw new Refused(response.status, said?.error.sentence ?? `The program refused this (${response.status}).`, said?.error.key ?? null)
}

const json = async <Document>(path: string, init?: RequestInit): Promise<Document> =>
  (await (await asked(path, init)).json()) as Document

const post = (body: unknown, headers: Readonly<Record<string, string>> = {}, method = 'POST'): RequestInit => ({
  method,
  headers: { 'Content-Type': 'application/json', ...headers },
  body: JSON.stringify(body),
})

export const readProject = (): Promise<ProjectText> => json('/api/project')

export const saveProject = (text: string, revision: string): Promise<Saved> =>
  json('/api/project', post({ text }, { 'If-Match': `"${revision}"` }, 'PUT'))

export const readFields = (): Promise<FieldList> => json('/api/fields')

export const readArchetypes = (): Promise<ArchetypeList> => json('/api/archetypes')

export const makeArchetype = (id: string, measurements: Readonly<Record<string, string>>): Promise<ArchetypeText> =>
  json('/api/archetype', post({ id, measurements }))

export const quickVerdict = (numbers: QuickRequest): Promise<QuickDocument> => json('/api/quick', post(numbers))

/** The bytes of a photograph; what it is the program finds out for itself. */
export const sendPhoto = (view: 'side' | 'front', file: Blob): Promise<StoredPhoto> =>
  json(`/api/photos/${view}`, { method: 'POST', headers: { 'Content-Type': file.type === 'image/png' ? 'image/png' : 'image/jpeg' }, body: file })

export const readPhotos = (text: string): Promise<PhotoReading> => json('/api/photos', post({ text }))

export const removePhoto = (picture: string): Promise<Response> => asked('/api/photos/remove', post({ picture }))

export interface Sheet {
  readonly bytes: Blob
  readonly name: string
}

/** A sheet as a file, with the name that the program gives it. */
export async function makeSheet(request: MakeRequest): Promise<Sheet> {
  const response = await asked('/api/make', post(request))
  const named = /filename="([^"]+)"/.exec(response.headers.get('Content-Disposition') ?? '')
  return { bytes: await response.blob(), name: named?.[1] ?? `${request.sheet}.pdf` }
}

/** Hands a file to the browser's own download. */
export function handOver(bytes: Blob, name: string): void {
  const address = URL.createObjectURL(bytes)
  const link = document.createElement('a')
  link.href = address
  link.download = name
  document.body.append(link)
  link.click()
  link.remove()
  window.setTimeout(() => URL.revokeObjectURL(address), 60_000)
}
