import { getTranslations } from 'next-intl/server'
import { onceEach, type Say, sayReason } from '@/app/_components/form/reason-words'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { Reason } from '@/lib/errors'
import type { FormatPrefs } from '@/lib/format/prefs'

/** What a permit still waits for, before anybody has pressed anything. */
export async function ReasonRows({
  title,
  reasons,
  prefs,
}: Readonly<{
  title: string | ((count: number) => string)
  reasons: readonly Reason[]
  prefs: FormatPrefs
}>) {
  const t = (await getTranslations()) as unknown as Say
  if (reasons.length === 0) return null
  const said = onceEach(reasons.map((reason) => sayReason(t, prefs, reason)))
  return (
    <section className="border-b border-rule px-4 py-3 desk:px-0">
      <h2 className="type-section mb-1">
        {typeof title === 'string' ? title : title(said.length)}
      </h2>
      <ul>
        {said.map(({ what, cure, citation }) => (
          <li key={`${what} ${cure ?? ''}`} className="flex gap-3 py-1.5">
            <span className="pt-1">
              <AnswerMark name="to-answer" />
            </span>
            <span>
              <span className="block">{what}</span>
              {cure ? <span className="block type-note text-ink-2">{cure}</span> : null}
              {citation ? <span className="block type-small text-ink-2">{citation}</span> : null}
            </span>
          </li>
        ))}
      </ul>
    </section>
  )
}
