import type { ReactNode } from 'react'

type DeskPageHeadProps = Readonly<{
  title: ReactNode
  /** One or two sentences that say what needs someone; the pressing part in <b>. */
  sentence?: ReactNode
  /** At most two buttons, or the day and the time. */
  actions?: ReactNode
}>

export function DeskPageHead({ title, sentence, actions }: DeskPageHeadProps) {
  return (
    <header className="desk-page-head">
      <h1 className="type-desk-title">{title}</h1>
      {sentence ? <div className="desk-page-sentence">{sentence}</div> : null}
      {actions ? <div className="desk-page-actions">{actions}</div> : null}
    </header>
  )
}
