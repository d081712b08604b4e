import { useTranslations } from 'next-intl'
import { AnswerMark, type AnswerMarkName } from '@/app/_components/marks/answer-mark'
import { CrossSquare } from '@/app/_components/marks/icons'
import { Qr } from '@/app/_components/qr'
import { Wordmark } from '@/app/_components/wordmark'
import type { PostedSheet, SheetAnswer } from '@/lib/data/watch/sheet'
import { formatClock, formatDate, formatDay } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { SURVEY_GROUPS } from '@/lib/permit/survey'
import { findRule } from '@/lib/rules/catalogue'
import { windWords } from '../wind-units'
import { HourBoxes } from './hour-boxes'
import { WatchGrid } from './watch-grid'

type SheetProps = Readonly<{ sheet: PostedSheet; prefs: FormatPrefs }>

/** The permit as it hangs at the work. */
export function Sheet({ sheet, prefs }: SheetProps) {
  const t = useTranslations('posted')
  return (
    <article className="posted">
      <Head sheet={sheet} prefs={prefs} />
      <section className="posted-part">
        <h2>{t('crossOff')}</h2>
        <div className="posted-hours">
          <HourBoxes sheet={sheet} prefs={prefs} />
          <p>
            <span className="posted-end">{formatClock(sheet.validUntil, prefs)}</span>
            <br />
            <b>{t('ends')}</b>
          </p>
        </div>
      </section>
      <Facts sheet={sheet} prefs={prefs} />
      <Answers sheet={sheet} prefs={prefs} />
      <Signed sheet={sheet} prefs={prefs} />
      <Stop sheet={sheet} />
      <WatchGrid sheet={sheet} />
      <footer className="posted-foot">
        <p>
          {t('caution')}
          <br />
          {t('noReplacement')}
        </p>
        <p>
          {t('printed', { day: formatDay(sheet.now, prefs), time: formatClock(sheet.now, prefs) })}
          <br />
          {sheet.entry ? (
            <>
              {t('entry')}{' '}
              <span className="type-ident">
                {sheet.entry.seq}, {sheet.entry.code}
              </span>
            </>
          ) : null}
        </p>
      </footer>
    </article>
  )
}

function Head({ sheet, prefs }: SheetProps) {
  const t = useTranslations('posted')
  const { head } = sheet
  return (
    <header className="posted-head">
      <div>
        <p>
          <Wordmark /> <span>{t('post', { company: sheet.companyName })}</span>
        </p>
        <h1>{t('heading', { number: head.number })}</h1>
        <p className="posted-where">
          {t('where', {
            area: head.areaName,
            site: head.siteName,
            day: `${formatDay(sheet.issuedAt, prefs).split(' ')[0]} ${formatDate(sheet.issuedAt, prefs)}`,
          })}
        </p>
      </div>
      <div>
        <Qr text={sheet.stopUrl} label={t('qr')} sizeMm={26} />
        <p>{t('stopFromHere')}</p>
      </div>
    </header>
  )
}

function Facts({ sheet, prefs }: SheetProps) {
  const t = useTranslations('posted')
  const kg = sheet.heaviest?.kg
  const piece = kg === undefined ? null : formatQuantity('mass', kg, prefs)
  const citation = findRule(sheet.watchRule)?.citation ?? t('companyRule')
  const watcher = sheet.signed.find((one) => one.act === 'acknowledge')?.name ?? ''
  return (
    <section className="posted-part posted-facts">
      <span>{t('work')}</span>
      <b>{sheet.head.what}</b>
      <span>{t('endsIf')}</span>
      <span>{t('endsIfWhat')}</span>
      <span>{piece ? t('heaviest') : null}</span>
      <b>{piece ? t('heaviestIs', { weight: `${piece.value} ${piece.unit}` }) : null}</b>
      <span>{t('breakOver')}</span>
      <span>{t('breakThen', { minutes: sheet.breakLimitMin })}</span>
      <span>{t('outfit')}</span>
      <span>{sheet.outfit ?? t('none')}</span>
      <span>{t('watchAfter')}</span>
      <b>
        {sheet.watchMin > 0
          ? t('watchIs', { minutes: sheet.watchMin, name: watcher, citation })
          : t('noWatch')}
      </b>
    </section>
  )
}

const MARK: Readonly<Record<SheetAnswer['mark'], AnswerMarkName>> = {
  done: 'done',
  not_here: 'not-here',
  protected: 'protected',
  blocked: 'refused',
}

function Answers({ sheet, prefs }: SheetProps) {
  const t = useTranslations('posted')
  const times = sheet.answers.map((one) => one.at.getTime())
  // What changed since last time is for whoever walks; what was found hangs here.
  const groups = SURVEY_GROUPS.filter((group) => group !== 'before')
    .map((group) => ({
      group,
      rows: sheet.answers.filter((one) => one.group === group),
    }))
    .filter(({ group, rows }) => rows.length > 0 || (group === 'air' && sheet.gasTest))
  return (
    <section className="posted-part">
      <div className="flex justify-between">
        <h2>
          {times.length > 0
            ? t('walked', {
                from: formatClock(Math.min(...times), prefs),
                to: formatClock(Math.max(...times), prefs),
                count: times.length,
              })
            : t('notWalked')}
        </h2>
        <p className="posted-key">
          <span>
            <AnswerMark name="done" />
            {t('keyDone')}
          </span>
          <span>
            <AnswerMark name="not-here" />
            {t('keyNotHere')}
          </span>
          <span>
            <AnswerMark name="protected" />
            {t('keyProtected')}
          </span>
        </p>
      </div>
      <div className="posted-answers">
        {groups.map(({ group, rows }) => (
          <Group key={group} group={group} rows={rows} sheet={sheet} prefs={prefs} />
        ))}
      </div>
    </section>
  )
}

function Group({
  group,
  rows,
  sheet,
  prefs,
}: SheetProps & Readonly<{ group: SheetAnswer['group']; rows: readonly SheetAnswer[] }>) {
  const c = useTranslations('clearance')
  const all = useTranslations() as unknown as (key: never) => string
  const t = useTranslations('posted')
  const said = (row: SheetAnswer) =>
    [
      all(`clearance.items.${row.item}.title` as never),
      all(`clearance.items.${row.item}.choices.${row.choice}` as never),
    ].join(': ')
  const test = group === 'air' ? sheet.gasTest : null
  return (
    <section>
      <h3>{c(`groups.${group}`)}</h3>
      <ul>
        {rows.map((row) => (
          <li key={row.item}>
            <AnswerMark name={MARK[row.mark]} />
            <span>
              {said(row)}
              {row.what ? `. ${row.what}` : ''}
              {row.windMph === null ? '' : `. ${windWords(row.windMph, prefs.units)}`}
            </span>
          </li>
        ))}
        {test ? (
          <li>
            <AnswerMark name="done" />
            <span>
              {t('gasTest', {
                time: formatClock(test.at, prefs),
                oxygen: test.oxygenPct,
                lel: test.lelPct,
                co: test.coPpm ?? -1,
              })}
            </span>
          </li>
        ) : null}
      </ul>
    </section>
  )
}

function Signed({ sheet, prefs }: SheetProps) {
  const t = useTranslations('posted')
  return (
    <section className="posted-signed pt-2">
      {sheet.signed.map((one) => (
        <div key={one.act}>
          <p>{t(`signed.${one.act}`, { time: formatClock(sheet.validUntil, prefs) })}</p>
          <p className="text-[11pt]">
            <b>{one.name}</b>
          </p>
          <p>{t(`signedHow.${one.act}`, { time: formatClock(one.at, prefs) })}</p>
        </div>
      ))}
    </section>
  )
}

function Stop({ sheet }: Readonly<{ sheet: PostedSheet }>) {
  const t = useTranslations('posted')
  return (
    <section className="posted-stop">
      <CrossSquare sizePx={34} />
      <p>
        <b>{t('anyone')}</b>
        {t('anyoneHow')}
      </p>
      <p>
        {t('fire', { words: sheet.emergencyWords || t('call') })}
        {sheet.callThese.map((one) => (
          <span key={one.name} className="block">
            {t('callThis', { name: one.name, role: one.role, phone: one.phone })}
          </span>
        ))}
      </p>
    </section>
  )
}
