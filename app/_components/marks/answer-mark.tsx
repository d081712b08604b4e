import type { ReactNode } from 'react'

export type AnswerMarkName =
  | 'done'
  | 'not-here'
  | 'protected'
  | 'to-answer'
  | 'warm'
  | 'due'
  | 'late'
  | 'short'
  | 'refused'
  | 'cylinder'
  | 'truck'
  | 'not-sent'

const line = { fill: 'none', stroke: 'currentColor', strokeWidth: 2 } as const

/** Drawn in the text's own colour; what is trouble is set in heat by its row. */
const DRAWINGS: Readonly<Record<AnswerMarkName, ReactNode>> = {
  done: <path d="M1.2 8.6l4.2 4.4L14.8 3" {...line} strokeWidth={2.4} />,
  'not-here': <rect x="2" y="6.8" width="12" height="2.4" fill="currentColor" />,
  protected: (
    <>
      <rect x="1" y="1" width="3" height="14" fill="currentColor" />
      <rect x="7" y="5" width="7" height="7" {...line} />
    </>
  ),
  'to-answer': <path d="M1 8v5.4h14V8" {...line} />,
  warm: (
    <>
      <rect x="1" y="13" width="14" height="2.4" fill="currentColor" />
      <path d="M5.6 1C3.6 4 6.4 6.6 4.4 10.4M11.4 1C9.4 4 12.2 6.6 10.2 10.4" {...line} />
    </>
  ),
  due: <circle cx="8" cy="8" r="6.4" {...line} strokeWidth={2.2} />,
  late: (
    <>
      <circle cx="8" cy="8" r="6.2" {...line} strokeWidth={2.3} />
      <path d="M3.8 12.2l8.4-8.4" {...line} strokeWidth={2.3} />
    </>
  ),
  short: (
    <path
      d="M0.5 3.5h2v9h-2zM13.5 3.5h2v9h-2zM2.5 7h2.2v2h-2.2zM6.9 7h2.2v2h-2.2zM11.3 7h2.2v2h-2.2z"
      fill="currentColor"
    />
  ),
  refused: (
    <>
      <path d="M8 1.4l6.6 6.6L8 14.6 1.4 8z" {...line} strokeWidth={2.1} />
      <rect x="5" y="6.9" width="6" height="2.2" fill="currentColor" />
    </>
  ),
  cylinder: (
    <path
      d="M6 0h4v2.2h1l2.5 2.6v11.2h-11V4.8L5 2.2h1zM6 4.2L4.5 5.8v6.5h7V5.8L10 4.2z"
      fillRule="evenodd"
      fill="currentColor"
    />
  ),
  truck: <path d="M2.5 4h11L8 11.5z" {...line} strokeWidth={1.6} />,
  'not-sent': <circle cx="8" cy="8" r="4.5" {...line} />,
}

/** A mark for an answer or an event; the word beside it says the same. */
export function AnswerMark({
  name,
  sizePx = 16,
}: Readonly<{ name: AnswerMarkName; sizePx?: number }>) {
  return (
    <svg
      className="mark"
      width={sizePx}
      height={sizePx}
      viewBox="0 0 16 16"
      aria-hidden="true"
      focusable="false"
    >
      {DRAWINGS[name]}
    </svg>
  )
}
