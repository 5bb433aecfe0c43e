// A number of the file as a field shows it in the units that the person reads, and back into the file's own unit.
import { asTyped, shown as plain, type Typed } from './typed'
import type { System } from './words'

interface Measures {
  readonly metric: string // also the unit of a bare number in the file
  readonly inch: string
  readonly of: Readonly<Record<string, number>> // each unit in the metric one
}

// Exact by definition: inch 25.4 mm, pound 0.453 592 37 kg, pound-force 4.448 221 615 260 5 N (NIST SP 811, appendix B.8).
const LBF = 4.4482216152605
const MEASURES: Readonly<Record<string, Measures>> = {
  length: { metric: 'mm', inch: 'in', of: { mm: 1, cm: 10, m: 1000, in: 25.4, '"': 25.4, inch: 25.4, inches: 25.4 } },
  mass: { metric: 'kg', inch: 'lb', of: { kg: 1, g: 0.001, lb: 0.45359237, lbs: 0.45359237 } },
  force: { metric: 'N', inch: 'lbf', of: { N: 1, kN: 1000, lbf: LBF, kgf: 9.80665 } },
  stiffness: { metric: 'N/mm', inch: 'lbf/in', of: { 'N/mm': 1, 'N/m': 0.001, 'kN/m': 1, 'lbf/in': LBF / 25.4, 'lb/in': LBF / 25.4 } },
  speed: { metric: 'm/s', inch: 'mph', of: { 'm/s': 1, 'km/h': 1 / 3.6, mph: 0.44704 } },
  torsion: { metric: 'N·m/deg', inch: 'lbf·ft/deg', of: { 'N·m/deg': 1, 'lbf·ft/deg': LBF * 0.3048 } },
  pressure: { metric: 'bar', inch: 'psi', of: { bar: 1, kPa: 0.01, psi: 0.06894757293168 } },
}

const NUMBER = String.raw`\d+(?:\.\d+)?(?:[ -]\d+\/\d+)?|\d+\/\d+|\.\d+`
const FORM = new RegExp(String.raw`^([+-]?)\s*(${NUMBER})\s*([^\d±+%.,-]*)(?:(?:±|\+/-)\s*(${NUMBER})\s*(%?)\s*([^\d%]*))?$`)
const MARKS = 32 // finest marks of an inch tape

interface Read {
  readonly value: number
  readonly error: number | null
  readonly share: boolean // the error is in per cent
  readonly unit: string // '' where none was written
}

const number = (text: string): number =>
  text.split(/[ -]/).reduce((sum, part) => {
    const [over, under] = part.split('/')
    return sum + Number(over) / Number(under ?? 1)
  }, 0)

/** A number with what may stand beside it; null where it is anything else, which the program judges. */
function read(text: string): Read | null {
  const found = FORM.exec(text.trim())
  if (!found) return null
  const [, sign = '', value = '', first = '', error, percent = '', last = ''] = found
  const size = number(value)
  if (!Number.isFinite(size)) return null
  return { value: sign === '-' ? -size : size, error: error === undefined ? null : number(error), share: percent === '%', unit: first.trim() || last.trim() }
}

const tidy = (value: number, figures: number): string => Number(value.toPrecision(figures)).toString()

function onTape(inches: number): string {
  const marks = Math.round(Math.abs(inches) * MARKS)
  if (Math.abs(Math.abs(inches) * MARKS - marks) > 0.02 || !marks) return tidy(inches, 5)
  let [part, of] = [marks % MARKS, MARKS]
  while (part && part % 2 === 0) [part, of] = [part / 2, of / 2]
  const whole = Math.floor(marks / MARKS)
  return `${inches < 0 ? '-' : ''}${part ? `${whole ? `${whole} ` : ''}${part}/${of}` : whole}`
}

const say = (value: number, unit: string): string => (unit === 'in' ? onTape(value) : tidy(value, 5))

/** Whether a kind of quantity is read in another unit by who reads inches. */
export const hasTwoUnits = (kind: string | null | undefined): boolean => Boolean(kind && MEASURES[kind])

export interface Shown {
  readonly text: string
  readonly unit: string | null // null where the text carries its own
  readonly file: string | null // how the file has it, where that reads otherwise
}

/** A value of the file as a field shows it. */
export function shownIn(value: unknown, kind: string, system: System): Shown {
  const measures = MEASURES[kind]
  const text = plain(value)
  if (!measures) return { text, unit: null, file: null }
  const unit = measures[system]
  const found = text === '' ? null : read(text)
  if (!found) return { text, unit: text === '' ? unit : null, file: null }
  const from = found.unit || measures.metric
  const [has, wants] = [measures.of[from], measures.of[unit]]
  if (has === undefined || wants === undefined) return { text, unit: null, file: null }
  if (from === unit) return { text: (found.unit ? text.replace(found.unit, '') : text).replace(/\s+/g, ' ').trim(), unit, file: null }
  const turned = say((found.value * has) / wants, unit)
  const spread = found.error === null ? '' : ` ± ${found.share ? `${found.error} %` : tidy((found.error * has) / wants, 2)}`
  return { text: turned + spread, unit, file: found.unit ? text : `${text} ${measures.metric}` }
}

const withUnit = (text: string, unit: string): string => `${text.trim()} ${unit}`

/** What is written for a typed text: in the unit that the file has there; with its own unit as typed. */
export function writtenFor(text: string, kind: string, system: System, before: unknown): Typed {
  const measures = MEASURES[kind]
  const found = read(text)
  if (!measures || !found || found.unit) return asTyped(text)
  const stood = before === undefined || before === null || before === '' ? null : read(plain(before))
  const typedIn = measures[system]
  const fileUnit = stood ? stood.unit || measures.metric : typedIn
  const [has, wants] = [measures.of[typedIn], measures.of[fileUnit]]
  if (has === undefined || wants === undefined) return asTyped(withUnit(text, typedIn))
  const bare = fileUnit === measures.metric && !stood?.unit
  if (fileUnit === typedIn) return asTyped(bare ? text : withUnit(text, typedIn))
  const turned = tidy((found.value * has) / wants, 8)
  const spread = found.error === null ? '' : ` ± ${found.share ? `${found.error} %` : tidy((found.error * has) / wants, 3)}`
  return asTyped(bare && !spread ? turned : `${turned}${spread} ${fileUnit}`)
}
