// Millimetres and pixels are different types, and turn into one another only here.
declare const unit: unique symbol
export type Mm = number & { readonly [unit]: 'mm' }
export type Px = number & { readonly [unit]: 'px' }

export const mm = (value: number): Mm => value as Mm
export const px = (value: number): Px => value as Px

/** Pixels that a length takes on the screen at `pxPerMm`. */
export const toPx = (length: Mm, pxPerMm: number): Px => (length * pxPerMm) as Px

/** Millimetres under a length on the screen at `pxPerMm`. */
export const toMm = (length: Px, pxPerMm: number): Mm => (length / pxPerMm) as Mm
