// The small drawings of the cards' tasks, 320 by 152: how to hold, where to stand, what can hurt. Paper draws them too.
import pictures from '../../../src/leverwright/make/pictures.json'

export type PictureName = keyof typeof pictures

interface Drawn {
  readonly strokes: readonly { readonly is: string; readonly d: string }[]
  readonly words: readonly { readonly at: readonly number[]; readonly says: string }[]
}

export const PICTURES: Readonly<Record<PictureName, Drawn>> = pictures
