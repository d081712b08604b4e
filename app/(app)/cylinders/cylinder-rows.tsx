import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { NumberParts } from '@/app/_components/number-parts'
import type { CylinderRow } from '@/lib/data/cylinders-shown'
import { formatWhen } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { contentsFigure } from './contents-figure'
import { DueWords, WhereWords } from './cylinder-words'

type Listed = Readonly<{ cylinders: readonly CylinderRow[]; prefs: FormatPrefs; now: Date }>

/** Cylinders on a phone: serial and contents, then gas, status and where. */
export function CylinderRows({ cylinders, prefs, now }: Listed) {
  return (
    <ul>
      {cylinders.map((cylinder) => (
        <PhoneRow key={cylinder.id} cylinder={cylinder} prefs={prefs} now={now} />
      ))}
    </ul>
  )
}

function PhoneRow({
  cylinder,
  prefs,
  now,
}: Readonly<{ cylinder: CylinderRow; prefs: FormatPrefs; now: Date }>) {
  const t = useTranslations('cylinders')
  const figure = contentsFigure(cylinder, prefs)
  return (
    <li className="relative border-b border-rule px-4 pt-2 pb-3">
      <div className="flex items-end justify-between gap-2">
        <h2 className="type-row-title">
          <Link
            href={`/cylinders/${cylinder.id}`}
            className="type-ident inline-block min-h-6 text-ink after:absolute after:inset-0"
          >
            {cylinder.serial}
          </Link>
        </h2>
        {figure ? (
          <NumberParts before={t('about')} parts={[figure]} />
        ) : (
          <span className="type-note">?</span>
        )}
      </div>
      <div className="flex justify-between gap-2 type-note text-ink-2">
        <span>
          {t(`gas.${cylinder.gasId}` as 'gas.oxygen')} {cylinder.sizeName}.{' '}
          <b className="font-semibold text-ink">{t(`status.${cylinder.status}`)}</b>
        </span>
        <span>{figure?.interval}</span>
      </div>
      <div className="flex justify-between gap-2 type-note text-ink-2">
        <WhereWords cylinder={cylinder} />
        <span>
          {cylinder.lastReadingAt
            ? t('readAt', { when: formatWhen(cylinder.lastReadingAt, now, prefs) })
            : t('notRead')}
        </span>
      </div>
      {cylinder.isPastDue ? (
        <p className="type-note">
          <DueWords cylinder={cylinder} />
        </p>
      ) : null}
    </li>
  )
}
