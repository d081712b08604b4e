import { getTranslations } from 'next-intl/server'
import { FactList } from '@/app/_components/row'
import type { ClearanceView } from '@/lib/data/permits/clearance-view'
import type { PermitView } from '@/lib/data/permits/get'
import { formatWhen } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { AnsweredRow } from '../clearance/answered-row'

/** What a signature is for: the work, who does it, what was found and what is asked. It stands above the PIN. */
export async function SignedContent({
  permit,
  clearance,
  prefs,
}: Readonly<{ permit: PermitView; clearance: ClearanceView; prefs: FormatPrefs }>) {
  const t = await getTranslations('permit.sign.content')
  const p = await getTranslations('precautions')
  const f = await getTranslations('permit.facts')
  const { head, people, now, isolation } = permit
  const linked = [permit.hostPermit, permit.entryPermit].flatMap((one) =>
    one ? [one.until ? `${one.number}, ${formatWhen(one.until, now, prefs)}` : one.number] : [],
  )
  const facts = [
    { name: t('work'), value: head.what },
    { name: t('where'), value: `${head.areaName}. ${head.whereWords}` },
    { name: t('cold'), value: permit.coldWhy },
    { name: t('inside'), value: permit.inside },
    { name: t('behind'), value: permit.behind },
    { name: t('linked'), value: linked.join('. ') },
    {
      name: f('isolation'),
      value: isolation
        ? f('isolationWords', {
            steps: isolation.steps.map((step) => f(`steps.${step}`)).join(', '),
            name: isolation.provenBy,
          })
        : '',
    },
    {
      name: f('alone'),
      value: permit.loneClient ? f('aloneWith', { client: permit.loneClient }) : '',
    },
    { name: t('cuts'), value: people.operator },
    { name: t('watches'), value: people.watcher },
    { name: t('outfit'), value: permit.outfit?.number ?? '' },
    { name: t('asks'), value: permit.precautions.map(({ id }) => p(id)).join(' ') },
  ].filter(({ value }) => value !== '')
  return (
    <details open className="border-b border-rule">
      <summary className="text-link mx-4 flex min-h-12 items-center desk:mx-0">
        {t('title', { count: clearance.total })}
      </summary>
      <div className="[&_.facts_dt]:w-[88px] desk:[&_.facts]:px-0">
        <FactList facts={facts} />
      </div>
      <ul className="plain-rows border-t border-rule">
        {clearance.items.map((item) => (
          <AnsweredRow key={item.id} item={item} href={null} prefs={prefs} />
        ))}
      </ul>
    </details>
  )
}
