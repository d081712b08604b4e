import type { ReactNode } from 'react'

/** One sentence, and the next step. No picture. */
export function EmptyState({
  title,
  next,
  action,
  isPage = false,
}: Readonly<{
  title: string
  next: ReactNode
  action?: ReactNode
  /** Nothing else is on the page: the sentence is its heading. */
  isPage?: boolean
}>) {
  const Title = isPage ? 'h1' : 'p'
  return (
    <div className="state">
      <Title className="font-[650]">{title}</Title>
      <p className="text-ink-2">{next}</p>
      {action ? <div className="state-action">{action}</div> : null}
    </div>
  )
}
