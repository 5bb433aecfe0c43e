// The small drawings of the cards' tasks, 320 by 150: how to hold, where to stand, what can hurt.
export type PictureName = 'scale' | 'plank' | 'tilt' | 'ride' | 'squash' | 'wire' | 'shock' | 'tape' | 'card'

interface Stroke {
  readonly is: string // its class, for colour and weight
  readonly d: string
}
interface Words {
  readonly at: readonly [number, number]
  readonly says: string
  readonly end?: boolean // ends at its place, else it is in the middle of it
}
export interface Drawn {
  readonly strokes: readonly Stroke[]
  readonly words: readonly Words[]
}

const dot = (x: number, y: number, r: number): string => `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0`
const wheel = (x: number, y: number, r: number): readonly Stroke[] => [{ is: 'tyre', d: dot(x, y, r) }, { is: 'rim', d: dot(x, y, r * 0.58) }]
const floor: Stroke = { is: 'ground', d: 'M6 132H314' }
const scale = (x: number, y = 118): readonly Stroke[] => [{ is: 'tool', d: `M${x - 36} ${y}H${x + 36}V${y + 14}H${x - 36}Z` }, { is: 'on-tool', d: `M${x - 12} ${y + 7}H${x + 12}` }]
const across = (x1: number, x2: number, y: number): Stroke => ({ is: 'dim', d: `M${x1} ${y - 6}V${y + 6}M${x2} ${y - 6}V${y + 6}M${x1} ${y}H${x2}M${x1 + 8} ${y - 4}L${x1} ${y}L${x1 + 8} ${y + 4}M${x2 - 8} ${y - 4}L${x2} ${y}L${x2 - 8} ${y + 4}` })
const down = (x: number, y: number, long = 30): Stroke => ({ is: 'push', d: `M${x} ${y}V${y + long}M${x - 7} ${y + long - 10}L${x} ${y + long}L${x + 7} ${y + long - 10}` })
const heavy = (x: number, y: number): readonly Stroke[] => [{ is: 'middle', d: dot(x, y, 9) }, { is: 'middle-part', d: `M${x} ${y - 9}V${y + 9}M${x - 9} ${y}H${x + 9}` }]
const zigzag = (x1: number, x2: number, y: number, half: number): string =>
  Array.from({ length: 13 }, (_, i) => `${i ? 'L' : 'M'}${(x1 + ((x2 - x1) * i) / 12).toFixed(1)} ${i === 0 || i === 12 ? y : i % 2 ? y - half : y + half}`).join('')
const upright = (x: number, y1: number, y2: number, half: number): string =>
  Array.from({ length: 11 }, (_, i) => `${i ? 'L' : 'M'}${i === 0 || i === 10 ? x : i % 2 ? x - half : x + half} ${(y1 + ((y2 - y1) * i) / 10).toFixed(1)}`).join('')
const danger = (x: number, y: number): Stroke => ({ is: 'danger', d: `M${x} ${y - 15}L${x + 16} ${y + 12}H${x - 16}ZM${x} ${y - 5}V${y + 3}M${x} ${y + 7}V${y + 8}` })

export const PICTURES: Readonly<Record<PictureName, Drawn>> = {
  scale: {
    strokes: [floor, ...wheel(96, 76, 40), ...wheel(228, 76, 40), { is: 'part', d: 'M96 76H228' }, ...scale(96), { is: 'wood', d: 'M192 118H264V132H192Z' }, down(162, 34), { is: 'wood', d: 'M268 132L286 132L268 116Z' }],
    words: [{ at: [96, 148], says: 'scale' }, { at: [228, 148], says: 'block, as high' }, { at: [162, 26], says: 'rider' }],
  },
  plank: {
    strokes: [floor, { is: 'wood', d: 'M24 106H300V115H24Z' }, { is: 'part', d: dot(42, 123, 8) }, ...wheel(136, 66, 39), ...scale(272, 116), down(136, 8, 14), across(42, 136, 148), across(136, 272, 148)],
    words: [{ at: [42, 98], says: 'bar' }, { at: [272, 98], says: 'scale' }],
  },
  tilt: {
    strokes: [floor, { is: 'part', d: 'M84 84L236 48' }, ...wheel(84, 88, 30), ...wheel(236, 52, 30), ...scale(84), { is: 'wood', d: 'M204 82H268V132H204ZM204 99H268M204 116H268' }, { is: 'wood', d: 'M40 132L58 132L58 114Z' }, { is: 'dim', d: 'M288 82V132M282 82H294M282 132H294' }, danger(150, 108)],
    words: [{ at: [84, 148], says: 'read here' }, { at: [306, 112], says: 'by' }, { at: [150, 142], says: 'not under it' }],
  },
  ride: {
    strokes: [floor, ...wheel(70, 104, 28), ...wheel(244, 104, 28), { is: 'frame', d: 'M70 104H244M120 104L134 74H176M134 74L122 34' }, { is: 'part', d: `${dot(146, 22, 10)}M140 34L144 70H182L196 98M142 46L172 58` }, { is: 'wood', d: 'M206 62H266V92H206Z' }, ...heavy(152, 54), ...heavy(236, 77), ...heavy(160, 104)],
    words: [{ at: [92, 30], says: 'rider' }, { at: [236, 54], says: 'cargo' }, { at: [160, 128], says: 'frame' }],
  },
  squash: {
    strokes: [floor, ...scale(160), { is: 'damper', d: 'M160 116V74' }, { is: 'rod', d: 'M160 74V26' }, { is: 'spring', d: upright(160, 116, 26, 24) }, { is: 'guide', d: 'M128 112V40M192 112V40' }, { is: 'part', d: 'M132 24H188' }, down(160, 0, 20), { is: 'dim', d: 'M206 26H218M206 46H218M206 66H218M206 86H218' }, danger(60, 36)],
    words: [{ at: [244, 32], says: '0' }, { at: [244, 52], says: '10' }, { at: [244, 72], says: '20' }, { at: [244, 92], says: '30' }, { at: [60, 72], says: 'face not' }, { at: [60, 92], says: 'in its line' }, { at: [104, 124], says: 'tube' }],
  },
  wire: {
    strokes: [{ is: 'spring', d: zigzag(60, 260, 70, 40) }, { is: 'dim', d: 'M36 30H24M36 110H24M30 30V110M26 38L30 30L34 38M26 102L30 110L34 102' }, across(118, 136, 128), { is: 'dim', d: 'M118 96V122M136 96V122' }],
    words: [{ at: [56, 146], says: 'outside' }, { at: [127, 148], says: 'wire' }, { at: [240, 146], says: 'turns that move' }],
  },
  shock: {
    strokes: [{ is: 'part', d: dot(30, 54, 9) + dot(290, 54, 9) }, { is: 'rod', d: 'M40 54H160' }, { is: 'damper', d: 'M160 54H280' }, { is: 'spring', d: zigzag(52, 256, 54, 24) }, across(30, 290, 112), { is: 'dim', d: 'M30 70V104M290 70V104' }],
    words: [{ at: [160, 138], says: 'eye to eye' }],
  },
  tape: {
    strokes: [{ is: 'frame', d: 'M20 24H300M20 122H300' }, { is: 'dim', d: 'M52 28L152 72M268 28L168 72M52 118L152 80M268 118L168 80M144 62L152 72L139 74M176 62L168 72L181 74M139 79L152 80L143 89M181 79L168 80L177 89' }, { is: 'hole', d: dot(160, 76, 9) }, { is: 'pin', d: dot(44, 24, 5) + dot(276, 24, 5) + dot(44, 122, 5) + dot(276, 122, 5) }],
    words: [{ at: [26, 18], says: 'a' }, { at: [294, 18], says: 'b' }, { at: [26, 144], says: 'c' }, { at: [294, 144], says: 'd' }, { at: [160, 146], says: 'hook at 100: 512 is 412' }],
  },
  card: {
    strokes: [{ is: 'board', d: 'M20 20H300V136H20Z' }, { is: 'paper', d: 'M110 112L96 56L150 40L206 76Z' }, { is: 'string', d: 'M150 56L276 44' }, { is: 'part', d: 'M120 98L48 114' }, { is: 'pin', d: dot(112, 66, 5) + dot(276, 44, 5) }, { is: 'hole', d: dot(150, 56, 5) + dot(120, 98, 5) + dot(48, 114, 5) }, { is: 'dim', d: 'M182 104C206 116 216 96 204 84M204 84L198 94M204 84L214 90' }],
    words: [],
  },
}
