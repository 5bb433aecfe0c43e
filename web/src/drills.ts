import type { MakeRequest } from './wire'

/** What the sheets are told beside the vehicle, as typed: drills, and what the bars read on the last print. */
export interface Drills {
  readonly hole: string
  readonly holes: Readonly<Record<string, string>>
  readonly bar_across: string
  readonly bar_up: string
}
/** Only what was typed is asked for. */
export const asked = ({ hole, holes, bar_across, bar_up }: Drills): Partial<MakeRequest> => ({
  ...(hole && { hole }),
  holes: Object.fromEntries(Object.entries(holes).filter(([, size]) => size)),
  ...(bar_across && { bar_across }),
  ...(bar_up && { bar_up }),
})
