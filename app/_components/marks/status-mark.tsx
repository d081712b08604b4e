import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'

export type PermitStatus =
  | 'preparing'
  | 'cleared'
  | 'open'
  | 'held'
  | 'watch'
  | 'monitored'
  | 'closed'
  | 'stopped'
  | 'withdrawn'

const ink = 'var(--ink)'
const outline = <rect x="1" y="1" width="14" height="14" fill="none" stroke={ink} strokeWidth="2" />

/** The square empties as the permit lives. */
const DRAWINGS: Readonly<Record<PermitStatus, ReactNode>> = {
  preparing: (
    <rect
      x="1"
      y="1"
      width="14"
      height="14"
      fill="none"
      stroke={ink}
      strokeWidth="2"
      strokeDasharray="3.5 2.1"
      strokeDashoffset="1.75"
    />
  ),
  cleared: outline,
  open: (
    <>
      <rect width="3" height="16" fill="var(--flame)" />
      <rect x="5" width="11" height="16" fill={ink} />
    </>
  ),
  held: (
    <>
      <rect width="3.75" height="16" fill={ink} />
      <rect x="5.5" width="3.75" height="16" fill={ink} />
      <rect x="11" width="5" height="16" fill={ink} />
    </>
  ),
  watch: (
    <>
      <path d="M0 0.5h2v7.5h12v-7.5h2v15.5h-16z" fill={ink} />
      <rect y="4" width="16" height="2.5" fill="var(--flame)" />
    </>
  ),
  monitored: <path d="M0 0h2v12h12v-12h2v16h-16z" fill={ink} />,
  closed: (
    <>
      <rect y="14" width="16" height="2" fill={ink} />
      <path d="M2.8 5.6l3.4 3.6 6.6-7.4" fill="none" stroke={ink} strokeWidth="2.2" />
    </>
  ),
  stopped: (
    <>
      <rect width="16" height="16" fill="var(--stop-edge)" />
      <path d="M4 4l8 8M12 4l-8 8" stroke="var(--paper)" strokeWidth="2.6" />
    </>
  ),
  withdrawn: (
    <>
      {outline}
      <path d="M2 14L14 2" stroke={ink} strokeWidth="2" />
    </>
  ),
}

/** The mark alone; never without its word somewhere beside it. */
export function StatusMark({ status }: Readonly<{ status: PermitStatus }>) {
  return (
    <svg
      className="mark"
      width="16"
      height="16"
      viewBox="0 0 16 16"
      aria-hidden="true"
      focusable="false"
    >
      {DRAWINGS[status]}
    </svg>
  )
}

/** Mark and word, always both. */
export function Status({
  status,
  size = 'phone',
}: Readonly<{ status: PermitStatus; size?: 'phone' | 'desk' }>) {
  const t = useTranslations('kit.status')
  return (
    <span className={`status ${size === 'desk' ? 'status-desk' : ''}`}>
      <StatusMark status={status} />
      <span>{t(status)}</span>
    </span>
  )
}
