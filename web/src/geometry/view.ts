import { dot, plus, type Flat, type Place } from './space'
import { px, type Px } from './units'

export type ViewName = 'side' | 'front' | 'above' | 'turned'

/** How the vehicle is looked at: turned by `yaw` about z, then tipped down by `pitch`, radians. */
export interface View {
  readonly yaw: number
  readonly pitch: number
}

/** The straight views. Side: front of the vehicle to the right. Front: seen by who stands before it. */
export const STRAIGHT: Readonly<Record<Exclude<ViewName, 'turned'>, View>> = {
  side: { yaw: 0, pitch: 0 },
  front: { yaw: Math.PI / 2, pitch: 0 },
  above: { yaw: 0, pitch: Math.PI / 2 },
}
export const FIRST_TURN: View = { yaw: 0.6, pitch: 0.42 }

export const rightDir = (view: View): Place => [Math.cos(view.yaw), Math.sin(view.yaw), 0]

export const upDir = (view: View): Place => [
  -Math.sin(view.yaw) * Math.sin(view.pitch),
  Math.cos(view.yaw) * Math.sin(view.pitch),
  Math.cos(view.pitch),
]

/** From the vehicle to the eye. */
export const eyeDir = (view: View): Place => [
  Math.sin(view.yaw) * Math.cos(view.pitch),
  -Math.cos(view.yaw) * Math.cos(view.pitch),
  Math.sin(view.pitch),
]

/** Where a place lies in the view's plane: right and up, millimetres. */
export const flatten = (view: View, place: Place): Flat => [
  dot(rightDir(view), place),
  dot(upDir(view), place),
]

/** `place` moved in the view's plane; the depth stays. */
export const movedInView = (view: View, place: Place, step: Flat): Place =>
  plus(plus(place, rightDir(view), step[0]), upDir(view), step[1])

/** A sheet of `width` × `height` pixels that shows the millimetres around `middle`. */
export interface Sheet {
  readonly width: Px
  readonly height: Px
  readonly middle: Flat
  readonly pxPerMm: number
}

/** The sheet that shows every flat place with `edge` pixels to spare. */
export function fitted(flats: readonly Flat[], width: Px, height: Px, edge: Px): Sheet {
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity]
  for (const [u, v] of flats) {
    left = Math.min(left, u)
    right = Math.max(right, u)
    low = Math.min(low, v)
    high = Math.max(high, v)
  }
  if (left > right) [left, right, low, high] = [-300, 300, 0, 400]
  const wide = Math.max(right - left, 80)
  const tall = Math.max(high - low, 80)
  const pxPerMm = Math.max(
    0.01,
    Math.min((width - 2 * edge) / wide, (height - 2 * edge) / tall),
  )
  return { width, height, middle: [(left + right) / 2, (low + high) / 2], pxPerMm }
}

export const onSheet = (sheet: Sheet, flat: Flat): readonly [Px, Px] => [
  px(sheet.width / 2 + (flat[0] - sheet.middle[0]) * sheet.pxPerMm),
  px(sheet.height / 2 - (flat[1] - sheet.middle[1]) * sheet.pxPerMm),
]

export const offSheet = (sheet: Sheet, x: Px, y: Px): Flat => [
  sheet.middle[0] + (x - sheet.width / 2) / sheet.pxPerMm,
  sheet.middle[1] - (y - sheet.height / 2) / sheet.pxPerMm,
]

/** The transform of the group that is drawn in millimetres, z upward. */
export const sheetTransform = (sheet: Sheet): string => {
  const k = sheet.pxPerMm
  const x = sheet.width / 2 - sheet.middle[0] * k
  const y = sheet.height / 2 + sheet.middle[1] * k
  return `translate(${x.toFixed(3)} ${y.toFixed(3)}) scale(${k.toFixed(6)} ${(-k).toFixed(6)})`
}
