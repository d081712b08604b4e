import type { Scale } from './scale'
import type { UncertainEnd } from './teeth'

/** A value on the axis that is certain, or the quantiles of one that is not. */
export type BarEnd = number | UncertainEnd

export interface Watched {
  /** Rounds still to come. */
  readonly rounds?: readonly number[]
  /** Where the minutes that were added begin; they run to the end. */
  readonly addedFrom?: number
}

/** One lying bar. `start` is where the past line begins; without it, it begins at the axis's edge. */
export type LyingBar =
  | ({ state: 'running'; start?: number; end: BarEnd; shortUntil?: number } & Watched)
  | ({ state: 'held'; start?: number; end: BarEnd } & Watched)
  | ({ state: 'paused'; start?: number; end: BarEnd } & Watched)
  | ({ state: 'stopped'; start?: number; stoppedAt: number; end: number } & Watched)
  | { state: 'shut'; end: BarEnd; shortUntil?: number }
  | { state: 'not-begun'; start: number; end: number }
  | { state: 'past-end'; start?: number; end: number }
  | { state: 'closed'; start: number; end: number }
  | { state: 'no-reading' }

export interface LyingInput {
  readonly bar: Readonly<LyingBar>
  readonly scale: Scale
  readonly now: number
  readonly heightPx: number
  /** On a chart that a person can study, an interval over 60 px shows ten teeth. */
  readonly isStudied?: boolean
}

export interface Frame extends LyingInput {
  readonly nowPx: number
}
