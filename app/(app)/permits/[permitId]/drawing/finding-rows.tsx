'use client'

import { useTranslations } from 'next-intl'
import { TurnedArrow } from '@/app/_components/marks/icons'
import type { MarkFinding } from '@/lib/permit/drawing-findings'
import { levelsWithoutPost } from '@/lib/permit/drawing-findings'
import { MarkIcon } from './mark-shape'
import type { Hand } from './use-drawing'
import { useFindingWords } from './words'

/** Everything drawn as a list, nearest first, with what each text says of its distance. */
export function FindingRows({
  findings,
  hand,
  canDraw,
}: Readonly<{ findings: readonly MarkFinding[]; hand: Hand; canDraw: boolean }>) {
  const t = useTranslations('permit.drawing')
  const { drawing } = hand
  const unwatched = levelsWithoutPost(drawing)
  return (
    <section>
      <h2 className="type-section border-b-2 border-ink px-4 pb-1 desk:px-0">
        {t('found', { count: findings.length })}
      </h2>
      {findings.length === 0 ? (
        <p className="px-4 py-2 type-note desk:px-0">{t('nothing')}</p>
      ) : (
        <ol className="list-none">
          {findings.map((finding) => (
            <FindingRow
              key={finding.mark.id}
              finding={finding}
              number={drawing.marks.indexOf(finding.mark) + 1}
              sheetName={drawing.sheets.find(({ id }) => id === finding.mark.sheetId)?.name ?? ''}
              isChosen={hand.chosenId === finding.mark.id}
              onChoose={
                canDraw
                  ? () =>
                      hand.set({
                        chosenId: finding.mark.id,
                        sheetId: finding.mark.sheetId,
                        tool: null,
                      })
                  : null
              }
            />
          ))}
        </ol>
      )}
      {unwatched.map((name) => (
        <p key={name} className="consequence px-4 desk:px-0">
          <TurnedArrow />
          <span>{t('noPost', { name })}</span>
        </p>
      ))}
    </section>
  )
}

type FindingRowProps = Readonly<{
  finding: MarkFinding
  number: number
  sheetName: string
  isChosen: boolean
  onChoose: (() => void) | null
}>

function FindingRow({ finding, number, sheetName, isChosen, onChoose }: FindingRowProps) {
  const t = useTranslations('permit.drawing')
  const { mark } = finding
  const { where, caught, judged } = useFindingWords()(finding)
  return (
    <li
      className={`border-b border-rule px-4 py-2 desk:px-0 ${isChosen ? 'border-l-4 border-l-cobalt desk:pl-4' : ''}`}
    >
      <div className="flex min-h-10 items-center gap-2.5 desk:min-h-6">
        <MarkIcon kind={mark.kind} />
        <span className="min-w-0 flex-1">
          <span className="block">
            {number}. {mark.label}
            {finding.isElsewhere ? (
              <span className="text-ink-2"> {t('on', { name: sheetName })}</span>
            ) : null}
          </span>
          <b className="block font-[650]">{where}</b>
        </span>
        {onChoose ? (
          <button
            type="button"
            className="text-link min-h-12 desk:min-h-6"
            onClick={onChoose}
            aria-label={t('changeOne', { label: mark.label, number })}
          >
            {t('change')}
          </button>
        ) : null}
      </div>
      {caught.map((words) => (
        <p key={words} className="text-heat type-small font-semibold">
          {words}
        </p>
      ))}
      {finding.burnsBelow ? (
        <p className="text-heat type-small font-semibold">{t('burnsBelow')}</p>
      ) : null}
      {judged ? <p className="type-small text-ink-2">{judged}</p> : null}
    </li>
  )
}
