// The few numbers that the page words itself while a wheel or a point moves.
// Everything else in words comes from the program. `tests/said.json`, made by the
// program's own wording, holds cases that these functions must say alike.

export type System = 'metric' | 'inch'

/** What the program says, in the units that the person reads. */
export const inUnits = (system: System, metric: string, inch: string): string => (system === 'inch' ? inch : metric)

type Kind = 'length' | 'force' | 'stiffness' | 'angle' | 'ratio'

/** From this size on, so many decimals; below the last, `least`. */
interface Figures {
  readonly steps: readonly (readonly [number, number])[]
  readonly least: number
  readonly zeros?: boolean
}

const FIGURES: Readonly<Record<Kind, Figures>> = {
  length: { steps: [[9.95, 0], [0.095, 1]], least: 2 },
  force: { steps: [[9.95, 0]], least: 1 },
  stiffness: { steps: [[99.95, 0], [9.995, 1]], least: 2 },
  angle: { steps: [[99.95, 0]], least: 1 },
  ratio: { steps: [[0.0995, 2]], least: 3, zeros: true },
}

const LBF = 4.4482216152605 // N, exact: NIST SP 811 appendix B.8
const LBF_FT = 1.3558179483314 // N·m: a pound-force at 12 inches
const INCH = 25.4 // mm, exact
const MARKS = 32 // finest marks of an inch tape that are said

/** `toFixed` without "-0". */
const fixed = (value: number, decimals: number): string => value.toFixed(decimals).replace(/^-(0(?:\.0*)?)$/, '$1')

function figures(value: number, kind: Kind): string {
  const { steps, least, zeros } = FIGURES[kind]
  const decimals = steps.find(([from]) => Math.abs(value) >= from)?.[1] ?? least
  const said = fixed(value, decimals)
  return zeros || !said.includes('.') ? said : said.replace(/\.?0+$/, '')
}

function onTape(marks: number): string {
  const [whole, part] = [Math.floor(marks / MARKS), marks % MARKS]
  if (!part) return `${whole}`
  let shared = MARKS
  while (part % shared) shared /= 2
  const fraction = `${part / shared}/${MARKS / shared}`
  return whole ? `${whole} ${fraction}` : fraction
}

/** To a mark of the tape; below one, to a thousandth of an inch. */
function sayInches(lengthMm: number): string {
  const size = Math.abs(lengthMm) / INCH
  if (size < 1 / MARKS) return `${fixed(lengthMm / INCH, 3).replace(/\.?0+$/, '')} in`
  return `${lengthMm < 0 ? '-' : ''}${onTape(Math.floor(size * MARKS + 0.5))} in`
}

/** "43 mm", or "1 11/16 in". */
export const sayLength = (lengthMm: number, system: System): string =>
  system === 'inch' ? sayInches(lengthMm) : `${figures(lengthMm, 'length')} mm`

/** "+43 mm" is bump, "-30 mm" droop. */
export function sayTravel(travelMm: number, system: System): string {
  const said = sayLength(travelMm, system)
  return travelMm > 0 && !said.startsWith('0 ') ? `+${said}` : said
}

export const sayForce = (newton: number, system: System): string =>
  system === 'inch' ? `${figures(newton / LBF, 'force')} lbf` : `${figures(newton, 'force')} N`

export const sayStiffness = (newtonMm: number, system: System): string =>
  system === 'inch'
    ? `${figures((newtonMm / LBF) * INCH, 'stiffness')} lbf/in`
    : `${figures(newtonMm, 'stiffness')} N/mm`

/** What a torsion spring does: degrees for each millimetre of wheel (or inch), and its moment. */
export const sayTwist = (degMm: number, system: System): string =>
  system === 'inch' ? `${figures(degMm * INCH, 'stiffness')} deg/in` : `${figures(degMm, 'ratio')} deg/mm`

export const sayMoment = (newtonMetre: number, system: System): string =>
  system === 'inch' ? `${figures(newtonMetre / LBF_FT, 'stiffness')} lbf·ft` : `${figures(newtonMetre, 'stiffness')} N·m`

export const sayAngle = (degrees: number): string => `${figures(degrees, 'angle')} deg`

/** "0.64": the short reading, for the moving number. */
export const sayRatioShort = (ratio: number): string => figures(ratio, 'ratio')

function inverse(ratio: number): string {
  const turned = 1 / Math.abs(ratio)
  return fixed(turned, turned < 9.995 ? 2 : turned < 99.95 ? 1 : 0)
}

/** "0.64 (spring moves 6.4 mm for 10 mm of wheel; 1 : 1.56)". */
export function sayRatio(ratio: number, system: System): string {
  const said = figures(ratio, 'ratio')
  if (Number(said) === 0) return `${said} (spring does not move with the wheel)`
  const decimals = (said.split('.')[1] ?? '').length - 1
  const far =
    system === 'metric'
      ? `${fixed(10 * Math.abs(ratio), decimals)} mm for 10 mm of `
      : `${said.replace('-', '')} in for 1 in of `
  const moves = ratio > 0 ? `spring moves ${far}wheel` : `spring gets longer, the wrong way, by ${far}bump`
  return `${said} (${moves}; 1 : ${inverse(ratio)})`
}
