const line = { fill: 'none', stroke: 'currentColor', strokeWidth: 2.4 } as const

export function BackIcon() {
  return (
    <svg width="12" height="16" viewBox="0 0 12 16" aria-hidden="true" focusable="false">
      <path d="M10 1.5L3.5 8l6.5 6.5" {...line} strokeWidth={2.6} />
    </svg>
  )
}

export function OnwardIcon() {
  return (
    <svg width="10" height="14" viewBox="0 0 10 14" aria-hidden="true" focusable="false">
      <path d="M1.5 1L8 7l-6.5 6" {...line} />
    </svg>
  )
}

/** Stands before a consequence, under the answer that caused it. */
export function TurnedArrow() {
  return (
    <svg
      className="mark"
      width="16"
      height="16"
      viewBox="0 0 16 16"
      aria-hidden="true"
      focusable="false"
    >
      <path d="M2 1v9h11M8.6 5l5 5-5 5" {...line} strokeWidth={2.3} />
    </svg>
  )
}

/** The cross on a danger slab. */
export function CrossSquare({ sizePx = 34 }: Readonly<{ sizePx?: number }>) {
  return (
    <svg
      className="cross-square"
      width={sizePx}
      height={sizePx}
      viewBox="0 0 34 34"
      aria-hidden="true"
      focusable="false"
    >
      <rect width="34" height="34" fill="#fff" />
      <path d="M9 9l16 16M25 9L9 25" stroke="var(--stop)" strokeWidth="5.6" />
    </svg>
  )
}
