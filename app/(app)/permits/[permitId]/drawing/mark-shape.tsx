import type { ReactNode } from 'react'
import type { MarkKind } from '@/lib/permit/drawing'

/** What each thing is drawn as, about its own middle; told apart by form, never by colour. */
const SHAPES: Readonly<Record<MarkKind, ReactNode>> = {
  opening: <path d="M-9 -6v12M9 -6v12M-9 0h4M5 0h4" />,
  burnable: <path d="M-7 -7h14v14h-14zM-7 0l7 -7M-7 7l14 -14M0 7l7 -7" />,
  sprinkler_head: (
    <>
      <circle r="7" />
      <path d="M-5 -5l10 10M-5 5l10 -10" />
    </>
  ),
  extinguisher: <path d="M-4 -6h8v14h-8zM-1.5 -6v-3.5h6" />,
  watch_post: (
    <>
      <path d="M0 -8l8 14h-16z" />
      <circle cy="1.5" r="1.5" />
    </>
  ),
}

export function MarkShape({ kind }: Readonly<{ kind: MarkKind }>) {
  return <g className="plan-mark">{SHAPES[kind]}</g>
}

/** The same beside its words in a list. */
export function MarkIcon({ kind }: Readonly<{ kind: MarkKind }>) {
  return (
    <svg
      className="mark"
      width="18"
      height="18"
      viewBox="-11 -11 22 22"
      aria-hidden="true"
      fill="none"
      stroke="currentColor"
      strokeWidth="2.2"
    >
      {SHAPES[kind]}
    </svg>
  )
}

export const WorkShape = () => (
  <g className="plan-mark">
    <circle r="8" />
    <path d="M-12 0h24M0 -12v24" />
  </g>
)
