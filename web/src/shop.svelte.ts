import type { Cards, Drawing, MakeRequest, NextStep, Reply, ShownArchetype, ShownField, ShownFinding, Sweep, SweepAssembly, Workspace } from './wire'
import { cornersOf, outgrown } from './geometry/extent'
import { assemblyOf, driveRange, posed, slotOf } from './geometry/pose'
import type { Part } from './geometry/hit'
import type { Place } from './geometry/space'
import { asked, type Drills } from './drills'
import { Live, type Ask } from './link/live'
import { handOver, makeSheet, readArchetypes, readFields, readProject, Refused, saveProject } from './link/http'
import { recall, remember } from './link/memory'
import type { Keys } from './measure/keys'
import type { TapeLine } from './measure/tapes'
import { standsAt, type Op, type Plane, type Values } from './ops'
import { Unsaved } from './unsaved.svelte'
import type { System } from './words'

export type Saving = 'absent' | 'saved' | 'unsaved' | 'saving' | 'changed'
export type Lamp = 'system' | 'bright'

/** Idle time after an edit before remedies are computed, ms. */
const IDLE = 300
/** A remedy drawn over the vehicle. */
export interface Shown {
  readonly words: string
  readonly ops: readonly Op[]
}
const EMPTY: Drawing = { points: {}, bodies: {}, bars: {}, springs: {}, straps: {}, held: {}, wheels: {}, shocks: {} }

const namesOf = (drawing: Drawing): string => [...Object.keys(drawing.points), ...Object.keys(drawing.wheels)].join('\n')

/** Everything that the page knows and does; components show it and call it. */
export class Shop {
  kept = $state.raw<Workspace | null>(null)
  trial = $state.raw<Workspace | null>(null)
  values = $state.raw<Values>({})
  fields = $state.raw<readonly ShownField[]>([])
  archetypes = $state.raw<readonly ShownArchetype[]>([])
  next = $state.raw<NextStep | null>(null)
  cards = $state.raw<Cards | null>(null) // what was measured, in the program's sentences
  asking = $state(false) // those sentences are of before the last edit
  keys = $state.raw<Keys | null>(null)
  tapes = $state.raw<readonly TapeLine[]>([]) // drawn over the vehicle while the tapes' card is at hand
  readonly unsaved = new Unsaved()
  text = $state.raw('')
  #savedText = $state.raw('')
  revision = $state.raw('') // of the file as this page last read or saved it; '' while it is not there
  #remedied = $state.raw<readonly ShownFinding[] | null>(null)
  #idle = 0
  #saidMeanwhile: string | null = null
  #last: Promise<boolean> = Promise.resolve(true) // the change that was asked for last, answered or not
  #busy = $state(false)
  line = $state<'opening' | 'live' | 'lost'>('opening')
  diskChanged = $state(false)
  sentence = $state('') // the last thing refused or done, said once
  told = $state('') // what was done beside what was asked, and how to have it back
  drills = $state.raw<Drills>({ hole: '', holes: {}, bar_across: '', bar_up: '' })
  view = $state<'start' | 'job'>('job')
  system = $state<System>(recall('units') === 'inch' ? 'inch' : 'metric')
  lamp = $state<Lamp>(recall('lamp') === 'bright' ? 'bright' : 'system')
  mode = $state('heave')
  drive = $state(0) // mm of the moved wheel's travel
  #put = { drive: 0, end: 0 } // where the person put the wheel; end: 1 at the end in bump, -1 in droop
  watched = $state('') // the wheel whose numbers are shown
  held = $state.raw<Part | null>(null)
  ticked = $state.raw<readonly string[]>([])
  comparing = $state.raw<Shown | null>(null) // the remedy that is shown, not done
  inHand = $state.raw<{ readonly name: string; readonly place: Place } | null>(null) // a point under the finger
  marked = $state.raw<readonly string[]>([]) // points of the finding that is read
  swing = $state.raw<Readonly<Record<string, readonly number[]>>>({}) // a loose motion that is shown, a step by point
  fitOn = $state.raw<Drawing>(EMPTY) // what the sheet was last fitted to

  readonly shown = $derived(this.trial ?? this.kept)
  readonly drawing = $derived(this.shown?.drawing ?? EMPTY)
  readonly plane = $derived<Plane>(this.kept?.plane === 'xz' || this.kept?.plane === 'yz' ? this.kept.plane : null)
  readonly modes = $derived(Object.keys(this.kept?.cycles ?? {}).filter((mode) => driveRange(this.kept?.cycles[mode])))
  readonly sweep = $derived<Sweep | undefined>(this.shown?.cycles[this.mode])
  readonly range = $derived(driveRange(this.sweep))
  readonly places = $derived(posed(this.drawing, this.sweep, this.drive))
  readonly ghost = $derived<ReadonlyMap<string, Place> | null>(
    this.trial && this.kept ? posed(this.kept.drawing, this.kept.cycles[this.mode], this.drive) : null,
  )
  readonly #judged = $derived(this.trial && !this.trial.partial && !this.comparing ? this.trial : null)
  readonly wheel = $derived(this.watched in this.drawing.wheels ? this.watched : (Object.keys(this.drawing.wheels)[0] ?? ''))
  readonly assembly = $derived<SweepAssembly | undefined>(assemblyOf(this.sweep, this.wheel))
  readonly slot = $derived(this.assembly ? slotOf(this.assembly.drive_mm, this.drive) : null)
  readonly findings = $derived<readonly ShownFinding[]>((this.#judged ? null : this.#remedied) ?? (this.#judged ?? this.kept)?.findings ?? [])
  readonly seeking = $derived(!this.trial && !this.#remedied && this.findings.some(({ severity }) => severity === 'stop' || severity === 'fix'))
  readonly judging = $derived(Boolean(this.trial?.partial && !this.comparing)) // the findings shown are those from before the hand moved
  readonly saving = $derived<Saving>(
    this.diskChanged ? 'changed' : this.#busy ? 'saving' : this.text !== this.#savedText ? 'unsaved' : this.revision ? 'saved' : 'absent',
  )

  readonly #live = new Live({
    live: () => void this.#open(),
    lost: () => (this.line = 'lost'),
    tried: (reply) => this.#tried(reply),
    diskChanged: (event) => this.#diskSaid(event.revision),
  })

  start(): void {
    this.#live.connect()
    void readFields().then((list) => (this.fields = list.fields), (refused: unknown) => this.#refused(refused))
    void readArchetypes().then((list) => (this.archetypes = list.archetypes), (refused: unknown) => this.#refused(refused))
  }

  /** A save of our own is news too; it is told from another's once it has been answered. */
  #diskSaid(revision: string | null): void {
    if (this.#busy) this.#saidMeanwhile = revision
    else this.diskChanged = revision !== this.revision
  }

  async #open(): Promise<void> {
    const mine = this.kept && this.text !== this.#savedText ? this.text : null
    const known = this.revision
    const reply = await this.#live.ask({ do: 'open' })
    if (!reply?.workspace) {
      this.#answered(reply)
      return
    }
    const first = !this.kept
    this.revision = reply.workspace.revision ?? ''
    this.#savedText = reply.workspace.text ?? ''
    if (first) this.unsaved.find(reply.workspace.name) // before the file's own text takes its place
    this.line = 'live'
    this.#keep(reply.workspace)
    this.ticked = (recall(`ticks ${reply.workspace.name}`) ?? '').split('|').filter(Boolean)
    if (first && Object.keys(reply.workspace.drawing.points).length === 0) this.view = 'start'
    // The line was lost with unsaved work: put it back, the file's own text is one undo away.
    if (mine !== null && (await this.replace(mine)) && known !== this.revision) this.diskChanged = true
    if (first) await this.unsaved.takeUp(this)
  }

  #keepDraft(): void {
    if (this.line === 'live' && this.kept) this.unsaved.keep(this.kept.name, { text: this.text, revision: this.revision, at: Date.now() }, this.text === this.#savedText)
  }

  #keep(workspace: Workspace): void {
    if (this.comparing || namesOf(workspace.drawing) !== namesOf(this.fitOn) || outgrown(cornersOf(this.fitOn), cornersOf(workspace.drawing))) this.fitOn = workspace.drawing
    this.kept = workspace
    this.inHand = null
    this.trial = null
    this.comparing = null
    this.swing = {}
    this.next = workspace.next
    this.#remedied = null
    this.asking = true
    this.text = workspace.text ?? this.text
    this.values = (workspace.values as Values | undefined) ?? this.values
    this.#keepDraft()
    if (!this.modes.includes(this.mode)) this.mode = this.modes[0] ?? 'heave'
    this.#stay()
    window.clearTimeout(this.#idle)
    this.#idle = window.setTimeout(() => void this.#remedies(), IDLE)
  }

  async #remedies(): Promise<void> {
    const asked = this.kept
    const reply = await this.#live.ask({ do: 'remedies' })
    if (!reply?.findings || this.kept !== asked) return
    this.#remedied = reply.findings
    this.cards = reply.cards ?? null
    this.asking = false
    this.next = reply.next ?? this.next
  }

  #answered(reply: Reply | null): boolean {
    if (reply?.workspace) this.#keep(reply.workspace)
    else {
      this.putBack()
      if (reply?.error) this.sentence = reply.error.sentence
    }
    return Boolean(reply?.workspace)
  }

  #refused(refused: unknown): void {
    this.sentence = refused instanceof Refused ? refused.message : 'Something went wrong in the page. Reload it; unsaved work may be lost.'
    if (!(refused instanceof Refused)) throw refused
  }

  /** Changes go one after another: each is made when the one before it has been answered, from the values it left. */
  #inTurn(make: () => Ask | null): Promise<boolean> {
    const turn = this.#last.then(async () => {
      const ask = make()
      return ask !== null && this.#answered(await this.#live.ask(ask))
    })
    this.#last = turn.catch(() => false)
    return turn
  }

  /** `make` asks for the edit from the values of the moment it is sent; no value read before goes with it. */
  async edit(make: () => readonly Op[]): Promise<boolean> {
    this.sentence = this.told = ''
    return this.#inTurn(() => {
      const ops = make()
      return ops.length > 0 ? { do: 'edit', ops } : null
    })
  }

  async replace(text: string): Promise<boolean> {
    this.sentence = ''
    return this.#inTurn(() => ({ do: 'replace', text }))
  }

  async undo(): Promise<void> {
    this.told = ''
    await this.#inTurn(() => ({ do: 'undo' }))
  }

  async redo(): Promise<void> {
    await this.#inTurn(() => ({ do: 'redo' }))
  }

  /** Shows what ops would do while a hand moves; nothing is kept. */
  try(ops: readonly Op[]): void {
    this.#live.try({ ops, modes: [this.mode] })
  }

  /** Draws a whole other text, for the start page. */
  tryText(text: string): void {
    this.#live.try({ text, modes: ['heave'] })
  }

  #tried(reply: Reply): void {
    if (reply.workspace) {
      this.trial = reply.workspace
      if (this.comparing && outgrown(cornersOf(this.fitOn), cornersOf(reply.workspace.drawing))) this.fitOn = reply.workspace.drawing
    } else if (reply.error) this.sentence = reply.error.sentence
  }

  /** Draws before and after of a remedy over each other. */
  compare(remedy: Shown): void {
    this.comparing = remedy
    this.try(remedy.ops)
  }

  putBack(): void {
    this.#live.stopTrying()
    if (this.comparing && this.kept) this.fitOn = this.kept.drawing
    this.trial = null
    this.comparing = null
    this.inHand = null
  }

  /** Why what stands at a key of the file was refused, as it is said beside its field; '' where it was not, or where nothing stands. */
  faultAt(key: string | undefined): string {
    const fault = key === undefined ? undefined : this.kept?.faults.find((fault) => fault.key === key)
    return fault && standsAt(this.values, key ?? '') ? `${fault.found}; ${fault.do}` : ''
  }

  /** Does the linkage move this point? Then it is placed in the set-up pose only. */
  moves(point: string): boolean {
    return Object.values(this.kept?.cycles ?? {}).some((sweep) => sweep.assemblies.some((assembly) => point in assembly.points_mm))
  }

  moveTo(drive: number): void {
    const [least, most] = this.range ?? [0, 0]
    this.drive = Math.min(most, Math.max(least, drive))
    if (this.range) this.#put = { drive: this.drive, end: this.drive >= most ? 1 : this.drive <= least ? -1 : 0 }
  }

  /** Puts the wheel where it was measured, as soon as it can be there. */
  toSetUp(): void {
    this.#put = { drive: 0, end: 0 }
    this.#stay()
  }

  /** After an edit the wheel is where the person had put it; where it cannot be, in the set-up pose or next to it. */
  #stay(): void {
    const [least, most] = this.range ?? [0, 0]
    const { drive, end } = this.#put
    const wanted = drive >= least && drive <= most ? drive : end > 0 ? most : end < 0 ? least : 0
    this.drive = Math.min(most, Math.max(least, wanted))
  }

  setMode(mode: string): void {
    this.mode = mode
    if (this.comparing) this.try(this.comparing.ops)
    this.moveTo(this.drive)
  }

  async save(over = this.revision): Promise<void> {
    await this.#last // what was typed before the button was pressed is saved with the rest
    const text = this.text
    this.#busy = true
    this.sentence = ''
    try {
      this.revision = (await saveProject(text, over)).revision
      this.#savedText = text
      this.diskChanged = false
      this.unsaved.older = null
      this.#keepDraft()
    } catch (refused) {
      if (refused instanceof Refused && [409, 412].includes(refused.status)) this.diskChanged = true
      this.#refused(refused)
    } finally {
      this.#busy = false
      if (this.#saidMeanwhile !== null && this.#saidMeanwhile !== this.revision) this.diskChanged = true
      this.#saidMeanwhile = null
    }
  }

  /** Takes what is on the disk; what was here stays one undo away. */
  async takeDisk(): Promise<void> {
    try {
      const disk = await readProject()
      if (!(await this.replace(disk.text))) return
      this.revision = disk.revision
      this.#savedText = disk.text
      this.diskChanged = false
    } catch (refused) {
      this.#refused(refused)
    }
  }

  /** Saves what is here over what is on the disk; the disk's text stays one redo away. */
  async keepMine(): Promise<void> {
    try {
      const disk = await readProject()
      if (!(await this.replace(disk.text))) return
      await this.undo()
      await this.save(disk.revision)
    } catch (refused) {
      this.#refused(refused)
    }
  }

  /** Makes a sheet and hands it to the browser; the sentence says what came of it. */
  async print(sheet: MakeRequest['sheet'], paper: 'A4' | 'Letter'): Promise<string> {
    await this.#last
    try {
      const made = await makeSheet({ text: this.text, sheet, paper, ...asked(this.drills) })
      handOver(made.bytes, made.name)
      return `${made.name} is in your downloads.`
    } catch (refused) {
      if (refused instanceof Refused) return refused.message
      throw refused
    }
  }

  setSystem(system: System): void {
    this.system = system
    remember('units', system)
  }

  setLamp(lamp: Lamp): void {
    this.lamp = lamp
    remember('lamp', lamp)
  }

  tick(card: string, done: boolean): void {
    const others = this.ticked.filter((ticked) => ticked !== card)
    this.ticked = done ? [...others, card] : others
    remember(`ticks ${this.kept?.name ?? ''}`, this.ticked.join('|'))
  }
}
