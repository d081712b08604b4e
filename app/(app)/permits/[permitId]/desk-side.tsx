import { getTranslations } from 'next-intl/server'
import { Column, DataTable } from '@/app/_components/data-table'
import type { PermitView } from '@/lib/data/permits/get'
import { formatClock, formatDayClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { findRule } from '@/lib/rules/catalogue'

type SideProps = Readonly<{ view: PermitView; prefs: FormatPrefs }>

/** What stands behind the permit: who signed, how long each rule wants a watch, every precaution with its rule. */
export function DeskSide(props: SideProps) {
  return (
    <div className="grid content-start gap-8">
      <Signatures {...props} />
      <WatchRules {...props} />
      <Precautions {...props} />
      <About {...props} />
    </div>
  )
}

async function Signatures({ view, prefs }: SideProps) {
  const t = await getTranslations('permit.side')
  if (view.signatures.length === 0) return null
  return (
    <section>
      <h2 className="type-section border-b-2 border-ink pb-1">{t('signed')}</h2>
      <ul className="type-desk">
        {view.signatures.map((one) => (
          <li
            key={`${one.act}-${one.at.toISOString()}`}
            className="flex justify-between gap-4 border-b border-rule py-1.5"
          >
            <span className="text-ink-2">{t(`acts.${one.act}`)}</span>
            <span>{t('nameAt', { name: one.name, time: formatClock(one.at, prefs) })}</span>
          </li>
        ))}
      </ul>
    </section>
  )
}

async function WatchRules({ view }: SideProps) {
  const t = await getTranslations('permit.side')
  return (
    <DataTable
      caption={t('rules')}
      head={
        <>
          <Column>{t('rules')}</Column>
          <Column isFigure>{t('watch')}</Column>
        </>
      }
    >
      <tbody>
        {view.watchByLayer.map(({ citation, minutes, statement, isAsked }) => (
          <tr key={citation}>
            <td>{minutes === view.watchMin && minutes > 0 ? <b>{citation}</b> : citation}</td>
            <td className="is-figure">
              {minutes !== null
                ? t('minutes', { minutes })
                : t(statement ? 'statement' : isAsked ? 'noNumber' : 'notAsked')}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  )
}

async function Precautions({ view }: SideProps) {
  const t = await getTranslations('permit.side')
  const p = await getTranslations('precautions')
  return (
    <section>
      <h2 className="type-section border-b-2 border-ink pb-1">
        {t('precautions', { count: view.precautions.length })}
      </h2>
      <ul className="type-desk">
        {view.precautions.map(({ id, rules }) => (
          <li key={id} className="border-b border-rule py-1.5">
            {p(id)}
            <span className="block type-desk-note text-ink-2">
              {citations(rules) || t('companyRule')}
            </span>
          </li>
        ))}
      </ul>
      <p className="py-2">
        <a className="text-link" href={`/permits/${view.head.id}/rules`}>
          {t('why')}
        </a>
      </p>
    </section>
  )
}

function citations(rules: readonly string[]): string {
  return [
    ...new Set(rules.map((rule) => findRule(rule)?.citation).filter((one) => one !== undefined)),
  ].join('. ')
}

async function About({ view, prefs }: SideProps) {
  const t = await getTranslations('permit.side')
  const linked = (other: PermitView['hostPermit']) =>
    other?.until
      ? t('linked', { number: other.number, time: formatDayClock(other.until, prefs) })
      : (other?.number ?? null)
  const lines = [
    [t('work'), view.head.what],
    [t('where'), view.head.whereWords],
    [t('cold'), view.coldWhy],
    [t('inside'), view.inside],
    [t('behind'), view.behind],
    [t('hostPermit'), linked(view.hostPermit)],
    [t('entryPermit'), linked(view.entryPermit)],
    [t('preparedBy'), view.people.preparedBy],
  ].filter((line): line is [string, string] => Boolean(line[1]))
  return (
    <section>
      <h2 className="type-section border-b-2 border-ink pb-1">{t('about')}</h2>
      <dl className="type-desk">
        {lines.map(([name, value]) => (
          <div key={name} className="grid grid-cols-[9rem_1fr] gap-4 border-b border-rule py-1.5">
            <dt className="text-ink-2">{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <p className="mt-3 type-desk-note text-ink-2">{t('caution')}</p>
    </section>
  )
}
