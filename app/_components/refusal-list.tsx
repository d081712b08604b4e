import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { AnswerMark } from './marks/answer-mark'

export interface RefusalReason {
  readonly id: string
  readonly what: ReactNode
  /** What cures it. */
  readonly cure?: ReactNode
  /** The rule: "29 CFR 1910.252(a)(2)(vi)(B)". */
  readonly citation?: ReactNode
  /** A button that leads to the cure, where there is one. */
  readonly action?: ReactNode
}

type RefusalListProps = Readonly<{
  /** "Can't issue yet." The count follows it. */
  title: string
  note?: ReactNode
  reasons: readonly RefusalReason[]
}>

/** Every reason at once, counted: what, what cures it, then the rule. */
export function RefusalList({ title, note, reasons }: RefusalListProps) {
  const t = useTranslations('kit.refusal')
  return (
    <section className="refusal" role="alert" tabIndex={-1} data-refusal="">
      <div className="refusal-head">
        <AnswerMark name="refused" sizePx={28} />
        <div>
          <h2>{t('counted', { title, count: reasons.length })}</h2>
          {note ? <p>{note}</p> : null}
        </div>
      </div>
      <ol>
        {reasons.map((reason) => (
          <li key={reason.id}>
            <h3>{reason.what}</h3>
            {reason.cure ? <p>{reason.cure}</p> : null}
            {reason.citation ? <p className="refusal-citation">{reason.citation}</p> : null}
            {reason.action ? <div className="refusal-action">{reason.action}</div> : null}
          </li>
        ))}
      </ol>
    </section>
  )
}
