import type { Table } from '../geometry/parts'

export interface Kind {
  readonly one: string
  readonly many: string
  readonly stem: string
  readonly help: string
}

/** The kinds of part, in the words of the trade, in the order in which a vehicle is made. */
export const KINDS: Readonly<Record<Table, Kind>> = {
  points: { one: 'point', many: 'Points', stem: 'point', help: 'A place measured on the vehicle: a pivot, a hole, an eye, a hub.' },
  bodies: { one: 'body', many: 'Bodies', stem: 'rocker', help: 'Anything rigid, by the points it carries. Two bodies that share a point are joined there; "chassis" stays still.' },
  bars: { one: 'bar', many: 'Bars', stem: 'link', help: 'A link between two points, its length fixed.' },
  shocks: { one: 'kind of shock', many: 'Shocks', stem: 'shock', help: 'What the shock is like: its rate and its lengths. A spring uses it.' },
  springs: { one: 'spring', many: 'Springs', stem: 'spring', help: 'A shock fitted between two points.' },
  straps: { one: 'strap', many: 'Straps', stem: 'strap', help: 'Slack below its length, pulls above: it ends droop.' },
  wheels: { one: 'wheel', many: 'Wheels', stem: 'wheel', help: 'On which body, about which centre, how big, how much it carries.' },
  held: { one: 'held motion', many: 'Held', stem: 'held', help: 'A steering end or hinge that is held within a range.' },
}
