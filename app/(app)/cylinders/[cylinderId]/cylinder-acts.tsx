import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { CylinderDetail } from '@/lib/data/cylinders'
import type { CylinderStatus } from '@/lib/schemas/cylinder'
import { CorrectForm, FillForm, FoundForm, MoveForm, TestForm } from './life-forms'
import { PlainActForm } from './plain-act-form'
import { ReasonForm } from './reason-form'

const LOOSE: readonly CylinderStatus[] = ['full', 'partial', 'empty']
const STANDING: readonly CylinderStatus[] = [...LOOSE, 'quarantined']
const AWAY: readonly CylinderStatus[] = ['returned', 'at_test', 'lost']

const MAY_BE: Readonly<Record<string, readonly CylinderStatus[]>> = {
  empty: ['full', 'partial'],
  quarantine: LOOSE,
  release: ['quarantined'],
  return: STANDING,
  sendForTest: STANDING,
  move: STANDING,
  test: [...STANDING, 'at_test', 'returned'],
  fill: [...LOOSE, 'at_test', 'returned'],
  lost: [...STANDING, 'in_use', 'in_transit', 'at_test', 'returned'],
  found: AWAY,
  scrap: [...STANDING, ...AWAY],
  correct: [...STANDING, 'in_use', 'in_transit'],
}

/** What may be done with it as it stands: nothing is offered that its status refuses. */
export function CylinderActs({ cylinder }: Readonly<{ cylinder: CylinderDetail }>) {
  const t = useTranslations('cylinders')
  const { id, status, mayRead, mayQuarantine, mayMove, mayReceive } = cylinder
  const may = (act: string, isMine: boolean) => isMine && (MAY_BE[act] ?? []).includes(status)
  const isSound = cylinder.condition === 'sound'
  const tareKg = cylinder.tareKg ?? cylinder.size.tareKg
  return (
    <div className="flex flex-col gap-3 border-b border-rule px-4 py-3 desk:max-w-[480px] desk:px-0">
      {isSound ? null : (
        <p className="trouble" role="status">
          <AnswerMark name="late" sizePx={14} />
          {t('unsound', { condition: t(`condition.${cylinder.condition}`) })}
        </p>
      )}
      {may('empty', mayRead) ? <PlainActForm cylinderId={id} act="empty" /> : null}
      {may('quarantine', mayQuarantine) ? <ReasonForm cylinderId={id} act="quarantine" /> : null}
      {isSound && may('release', mayQuarantine) ? (
        <ReasonForm cylinderId={id} act="release" />
      ) : null}
      {may('return', mayMove) ? <PlainActForm cylinderId={id} act="return" /> : null}
      {may('sendForTest', mayMove) ? <PlainActForm cylinderId={id} act="sendForTest" /> : null}
      {cylinder.siteId && may('move', mayMove) ? (
        <More words={t('act.move')}>
          <MoveForm
            cylinderId={id}
            siteId={cylinder.siteId}
            areas={cylinder.areas}
            sites={cylinder.moveTo}
          />
        </More>
      ) : null}
      {may('test', mayReceive) ? (
        <More words={t('act.test')}>
          <TestForm cylinderId={id} isStarred={cylinder.isStarred} />
        </More>
      ) : null}
      {isSound && may('fill', mayReceive) ? (
        <More words={t('act.fill')}>
          <FillForm cylinderId={id} />
        </More>
      ) : null}
      {cylinder.lastReadingId && may('correct', mayRead) ? (
        <More words={t('act.correct')}>
          <CorrectForm
            cylinderId={id}
            correctsId={cylinder.lastReadingId}
            size={cylinder.size}
            tareKg={tareKg}
          />
        </More>
      ) : null}
      {may('found', mayMove) ? (
        <More words={t('act.found')}>
          <FoundForm cylinderId={id} sites={cylinder.moveTo} />
        </More>
      ) : null}
      {may('lost', mayMove) ? (
        <More words={t('act.lost')}>
          <ReasonForm cylinderId={id} act="lost" />
        </More>
      ) : null}
      {may('scrap', mayMove) ? (
        <More words={t('act.scrap')}>
          <p className="field-note mb-2">
            {t(cylinder.ownership === 'rented' ? 'scrapRented' : 'scrapOwned')}
          </p>
          <ReasonForm cylinderId={id} act="scrap" />
        </More>
      ) : null}
    </div>
  )
}

/** Seldom done, so a press further away. */
function More({ words, children }: Readonly<{ words: string; children: ReactNode }>) {
  return (
    <details className="fold">
      <summary>{words}</summary>
      <div className="pt-2">{children}</div>
    </details>
  )
}
