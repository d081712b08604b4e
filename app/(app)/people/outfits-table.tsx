import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { Column, DataTable } from '@/app/_components/data-table'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { Opening, OpeningNumber, OpeningTableRow } from '@/app/_components/opening'
import type { PeoplePage } from '@/lib/data/people'
import type { OutfitRow, PartRow } from '@/lib/data/people-gear'
import { formatDate } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity, joinQuantity } from '@/lib/format/quantity'

type TableProps = Readonly<{ page: PeoplePage; prefs: FormatPrefs }>

/** Outfits with their state; a press opens the parts, torch to arrestors. */
export function OutfitsTable({ page, prefs }: TableProps) {
  const t = useTranslations('people')
  if (page.outfits.length === 0) return <p className="type-note text-ink-2">{t('noOutfits')}</p>
  return (
    <DataTable
      caption={t('outfitsCaption')}
      className="people-table"
      head={
        <>
          <Column>{t('outfitColumn')}</Column>
          <Column>{t('site')}</Column>
          <Column>{t('crew')}</Column>
          <Column>{t('state')}</Column>
          <Column>{t('tips')}</Column>
          <Column>{t('lookedAt')}</Column>
          <Column isFigure>{t('parts')}</Column>
        </>
      }
    >
      <tbody>
        {page.outfits.map((outfit) => (
          <Opening key={outfit.id}>
            <Outfit outfit={outfit} page={page} prefs={prefs} />
            <OpeningTableRow columns={7}>
              <ul className="grid gap-0.5">
                {outfit.parts.map((part) => (
                  <Part key={part.id} part={part} prefs={prefs} />
                ))}
              </ul>
            </OpeningTableRow>
          </Opening>
        ))}
      </tbody>
    </DataTable>
  )
}

/** The look that is longest ago: the outfit is as well looked after as that part. */
function oldestLook(parts: readonly PartRow[]): Date | null {
  const days = parts.flatMap((part) => (part.checkedOn ? [part.checkedOn.getTime()] : []))
  return days.length === parts.length && days.length > 0 ? new Date(Math.min(...days)) : null
}

function Outfit({ outfit, page, prefs }: TableProps & Readonly<{ outfit: OutfitRow }>) {
  const t = useTranslations('people')
  const g = useTranslations('permit.vessel.gas')
  const looked = oldestLook(outfit.parts)
  const tips = outfit.parts
    .filter((part) => part.kind === 'tip')
    .sort((a, b) => (a.orificeM ?? 0) - (b.orificeM ?? 0))
  return (
    <tr>
      <th scope="row">
        <Link className="text-link" href={`/outfits/${outfit.id}`}>
          {t('outfit', {
            number: outfit.number,
            fuel: g(outfit.fuelGasId as 'propane').toLowerCase(),
          })}
        </Link>
      </th>
      <td>{page.sites.find((site) => site.id === outfit.siteId)?.shortName}</td>
      <td className="text-ink-2">
        {page.crews.find((crew) => crew.id === outfit.crewId)?.name ?? t('noCrew')}
      </td>
      <td className={outfit.isInService ? 'text-ink-2' : 'is-trouble font-[650]'}>
        <span className="flex items-center gap-1.5">
          <AnswerMark name={outfit.isInService ? 'done' : 'refused'} sizePx={14} />
          {outfit.isInService ? t('inService') : t('outOfService', { reason: outfit.reason ?? '' })}
        </span>
      </td>
      <td className="text-ink-2">
        {tips.map((tip) => tipWords(tip, prefs, t)).join('; ') || t('noTips')}
      </td>
      <td className="whitespace-nowrap text-ink-2">
        <span className="desk:hidden">{t('lookedAt')} </span>
        {looked ? formatDate(looked, { timeZone: 'UTC' }) : t('notLookedAt')}
      </td>
      <td className="is-figure">
        <OpeningNumber
          spoken={t('spokenParts', { count: outfit.parts.length, number: outfit.number })}
        >
          {t('countParts', { count: outfit.parts.length })}
        </OpeningNumber>
      </td>
    </tr>
  )
}

type Words = ReturnType<typeof useTranslations<'people'>>

function tipWords(tip: PartRow, prefs: FormatPrefs, t: Words): string {
  const orifice = tip.orificeM ? joinQuantity(formatQuantity('orifice', tip.orificeM, prefs)) : ''
  return tip.shopTip ? t('tip', { orifice, tip: tip.shopTip }) : orifice || tip.name
}

function Part({ part, prefs }: Readonly<{ part: PartRow; prefs: FormatPrefs }>) {
  const t = useTranslations('people')
  const facts = [
    part.kind === 'tip' ? tipWords(part, prefs, t) : null,
    part.hoseGrade ? t('grade', { grade: part.hoseGrade }) : null,
    part.lengthM ? joinQuantity(formatQuantity('length', part.lengthM, prefs)) : null,
    part.checkedOn
      ? t('checked', { day: formatDate(part.checkedOn, { timeZone: 'UTC' }) })
      : t('notLookedAt'),
  ].filter((fact) => fact !== null)
  return (
    <li className="type-small">
      {part.name}
      {part.serial ? <span className="type-ident"> {part.serial}</span> : null}
      <span className="text-ink-2">, {facts.join(', ')}</span>
    </li>
  )
}
