import type { ReactNode } from 'react'

/** One sentence, and the next step. No picture. */
export function EmptyState({
  title,
  next,
  action,
}: Readonly<{ title: string; next: ReactNode; action?: ReactNode }>) {
  return (
    <div className="state">
      <p>
        <b>{title}</b>
      </p>
      <p className="text-ink-2">{next}</p>
      {action ? <div className="state-action">{action}</div> : null}
    </div>
  )
}
