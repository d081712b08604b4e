import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getOutfit, type OutfitPage } from '@/lib/data/gear/outfit'
import { getTipWear } from '@/lib/data/gear/tip-wear'
import { formatDate, formatWhen } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity, joinQuantity } from '@/lib/format/quantity'
import { BackReasons, CheckForms } from './check-forms'
import { TipWear } from './tip-wear'

type OutfitProps = Readonly<{ params: Promise<{ outfitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('outfits'))('one') }
}

export default async function OutfitScreen({ params }: OutfitProps) {
  const viewer = await requireViewer()
  const { outfitId } = await params
  const outfit = await found(getOutfit(viewer, outfitId))
  const tips = await found(getTipWear(viewer, outfitId))
  const t = await getTranslations('outfits')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: outfit.zone }
  const title = t('title', { number: outfit.number })
  return (
    <>
      <PhoneHead title={title} where={outfit.siteName} backHref="/people" />
      <DeskPageHead
        title={title}
        sentence={outfit.siteName}
        actions={
          outfit.can.write ? (
            <ButtonLink href={`/outfits/${outfit.id}/edit`}>{t('change')}</ButtonLink>
          ) : null
        }
      />
      <div className="grid gap-10 px-4 pb-8 desk:grid-cols-2 desk:px-8">
        <div>
          <Standing outfit={outfit} prefs={prefs} />
          <Facts outfit={outfit} prefs={prefs} />
          <TipWear tips={tips} prefs={prefs} mayInspect={outfit.can.inspect} />
          {outfit.can.write ? (
            <p className="py-3 desk:hidden">
              <ButtonLink href={`/outfits/${outfit.id}/edit`}>{t('change')}</ButtonLink>
            </p>
          ) : null}
        </div>
        <div>
          {outfit.can.inspect ? <CheckForms outfit={outfit} /> : null}
          <History outfit={outfit} prefs={prefs} />
        </div>
      </div>
    </>
  )
}

type PartProps = Readonly<{ outfit: OutfitPage; prefs: FormatPrefs }>

async function Standing({ outfit, prefs }: PartProps) {
  const t = await getTranslations('outfits')
  const { soap } = outfit
  return (
    <section className="mb-6">
      <p
        className={`flex items-center gap-2 py-2 font-[650] ${outfit.isInService ? '' : 'text-heat'}`}
      >
        <AnswerMark name={outfit.isInService ? 'done' : 'refused'} />
        {outfit.isInService ? t('inService') : t('outOfService', { reason: outfit.reason ?? '' })}
      </p>
      <BackReasons reasons={outfit.backReasons} />
      <ul>
        {outfit.due.map((one) => (
          <li key={one.check} className="flex items-center gap-3 border-b border-rule py-2">
            <AnswerMark
              name={one.standing === 'done' ? 'done' : one.standing === 'soon' ? 'due' : 'late'}
            />
            <span className="flex-1">{t(`checks.${one.check}`)}</span>
            <span className={one.standing === 'done' ? 'text-ink-2' : 'font-[600]'}>
              {t(`standing.${one.standing}`, {
                day: one.dueOn
                  ? formatDate(new Date(`${one.dueOn}T00:00:00Z`), { timeZone: 'UTC' })
                  : '',
              })}
            </span>
          </li>
        ))}
        <li className="flex items-center gap-3 border-b border-rule py-2">
          <AnswerMark name={soap.unsoaped.length > 0 || !soap.at ? 'late' : 'done'} />
          <span className="flex-1">{t('soap.title')}</span>
          <span className={soap.unsoaped.length > 0 ? 'font-[600]' : 'text-ink-2'}>
            {soap.unsoaped.length > 0
              ? t('soap.due', { serials: soap.unsoaped.join(', ') })
              : soap.at
                ? t('soap.last', { when: formatWhen(soap.at, new Date(), prefs) })
                : t('standing.never')}
          </span>
        </li>
      </ul>
      <p className="type-small pt-2 text-ink-2">{t('intervals')}</p>
    </section>
  )
}

async function Facts({ outfit, prefs }: PartProps) {
  const t = await getTranslations('outfits')
  const g = await getTranslations('permit.vessel.gas')
  return (
    <section>
      <h2 className="type-section border-b-2 border-ink pb-1">{t('facts')}</h2>
      <p className="pt-2">
        {t('whose', {
          fuel: g(outfit.fuelGasId as 'propane'),
          crew: outfit.crewName ?? t('noCrew'),
          holder: outfit.holderName ?? t('noHolder'),
        })}
      </p>
      <p className="text-ink-2">
        {outfit.rentedFrom ? t('rented', { firm: outfit.rentedFrom }) : t('owned')}
      </p>
      <ul className="py-2">
        {outfit.cylinders.length === 0 ? <li className="text-ink-2">{t('noCylinders')}</li> : null}
        {outfit.cylinders.map((one) => (
          <li key={one.id}>
            {t(`sides.${one.side as 'oxygen'}`)}{' '}
            <Link className="text-link type-ident" href={`/cylinders/${one.id}`}>
              {one.serial}
            </Link>
          </li>
        ))}
      </ul>
      <ul>
        {outfit.parts.map((part) => (
          <li key={part.id} className="border-t border-rule py-1.5">
            {part.name} <span className="type-ident">{part.serial}</span>
            <span className="text-ink-2">
              {' '}
              {[
                t(`kinds.${part.kind as 'torch'}`),
                part.hoseGrade ? t('ofGrade', { grade: part.hoseGrade }) : null,
                part.lengthM ? joinQuantity(formatQuantity('length', part.lengthM, prefs)) : null,
                part.orificeM
                  ? joinQuantity(formatQuantity('orifice', part.orificeM, prefs))
                  : null,
              ]
                .filter((word) => word !== null)
                .join(', ')}
            </span>
          </li>
        ))}
      </ul>
      {(['oxygen', 'fuel'] as const).map((side) => (
        <p key={side} className="type-note pt-2">
          {t(`trend.${outfit.trends[side].verdict}`, { side: t(`sides.${side}`) })}
        </p>
      ))}
    </section>
  )
}

async function History({ outfit, prefs }: PartProps) {
  const t = await getTranslations('outfits')
  const now = new Date()
  return (
    <section className="mt-8">
      <h2 className="type-section border-b-2 border-ink pb-1">{t('history')}</h2>
      {outfit.events.length === 0 ? <p className="py-2 text-ink-2">{t('noHistory')}</p> : null}
      <ol>
        {outfit.events.map((event) => (
          <li key={event.id} className="flex gap-3 border-b border-rule py-2">
            {event.verdict ? (
              <AnswerMark
                name={
                  event.verdict === 'passed'
                    ? 'done'
                    : event.verdict === 'failed'
                      ? 'refused'
                      : 'due'
                }
              />
            ) : null}
            <span>
              <span className="block">
                {t(`events.${event.kind as 'inspected'}`, { side: event.data.side ?? 'none' })}
                {event.verdict ? ` ${t(`verdicts.${event.verdict}`)}` : ''}
                {event.reason ? ` ${event.reason}` : ''}
              </span>
              <span className="type-small text-ink-2">
                {t('by', { name: event.personName, when: formatWhen(event.at, now, prefs) })}
              </span>
            </span>
          </li>
        ))}
      </ol>
    </section>
  )
}
