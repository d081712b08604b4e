import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { NumberParts } from '@/app/_components/number-parts'
import { Opening, OpeningNumber, OpeningPanel } from '@/app/_components/opening'
import type { ShopTip } from '@/lib/calc/opened-cut'
import type { CutRow as Cut } from '@/lib/data/cut-rows'
import { pieceOf } from '@/lib/data/estimates'
import { openCut } from '@/lib/data/estimates-terms'
import type { JobDetail } from '@/lib/data/jobs'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { gasFigure, withUnit } from '../figures'
import { PieceWords } from '../piece-words'
import { CutTerms } from './cut-terms'
import { cutTitle, sectionWords } from './cut-title'

type Translate = ReturnType<typeof useTranslations<'jobs'>>

type CutRowProps = Readonly<{
  cut: Cut
  job: JobDetail
  list: NonNullable<JobDetail['list']>
  prefs: FormatPrefs
}>

/** One cut still to do: title and number that opens; position, orifice, and what comes down. */
export function CutRow({ cut, job, list, prefs }: CutRowProps) {
  const [t, card] = [useTranslations('jobs'), useTranslations('card')]
  const opened = openCut(cut, list.estimate, job.tips)
  const oxygen = opened ? gasFigure('oxygen', opened.oxygen, prefs) : null
  return (
    <li className="border-b border-rule py-2">
      <Opening>
        <div className="flex items-baseline gap-3 px-4 desk:px-0">
          <span className="w-4 type-label text-ink-2">{cut.ordinal}</span>
          <div className="min-w-0 flex-1">
            <div className="flex items-baseline justify-between gap-2">
              <h2 className="type-row-title">{cutTitle(cut, t, prefs)}</h2>
              {oxygen ? (
                <OpeningNumber
                  spoken={t('spokenGas', { gas: t('gas.oxygen'), amount: withUnit(oxygen) })}
                >
                  <NumberParts parts={[oxygen]} />
                </OpeningNumber>
              ) : null}
            </div>
            <div className="mt-1 flex flex-wrap justify-between gap-x-3 type-note text-ink-2">
              <span>
                {cutPlace(cut, t, prefs)}{' '}
                <Orifice
                  metres={opened?.settings?.orificeM ?? null}
                  tip={opened?.settings?.tip ?? null}
                  prefs={prefs}
                />
              </span>
              <PieceWords piece={pieceOf(cut)} prefs={prefs} />
            </div>
            {!opened && job.mayWrite ? (
              <Link
                className="text-link inline-block min-h-6"
                href={`/jobs/${job.id}/cut?cut=${cut.id}`}
              >
                {t('changeCut')}
              </Link>
            ) : null}
            {opened ? (
              <Link
                className="text-link inline-block min-h-6 type-small"
                href={`/jobs/${job.id}/card?cut=${cut.id}`}
              >
                {card('open')}
              </Link>
            ) : null}
            {cut.note ? <p className="type-small text-ink-2">{cut.note}</p> : null}
          </div>
        </div>
        {opened ? (
          <OpeningPanel>
            <CutTerms
              number={cut.ordinal}
              opened={opened}
              crew={list.estimate.crew}
              fuel={list.fuel}
              prefs={prefs}
            />
            {job.mayWrite ? (
              <p className="mt-2">
                <Link
                  className="text-link inline-block min-h-6"
                  href={`/jobs/${job.id}/cut?cut=${cut.id}`}
                >
                  {t('changeCut')}
                </Link>
              </p>
            ) : null}
          </OpeningPanel>
        ) : null}
      </Opening>
    </li>
  )
}

/** "Plate 1 in, 18 ft. Overhead, 30° bevel." */
function cutPlace(cut: Cut, t: Translate, prefs: FormatPrefs): string {
  const section = cut.title ? sectionWords(cut.dims, t, prefs) : null
  const bevel = cut.dims.bevelDeg ? t('bevelOf', { degrees: cut.dims.bevelDeg }) : null
  const { miterDeg, stackPlates } = cut.dims
  const miter = miterDeg ? t('miterOf', { degrees: miterDeg }) : null
  const stack = stackPlates ? t('stackOf', { count: stackPlates }) : null
  const place = [t(`position.${cut.position}`), bevel, miter, stack].filter(Boolean).join(', ')
  return [section, place].filter(Boolean).join('. ').concat('.')
}

/** A hole within 0.003 in of what the table asks counts as the same. House judgement, no source. */
const SAME_ORIFICE_M = 0.000_08

/** ", shop 2", with its own hole where that is not quite what the table asks. */
function tipWords(tip: ShopTip, metres: number, prefs: FormatPrefs, t: Translate): string {
  if (Math.abs(tip.orificeM - metres) <= SAME_ORIFICE_M) return t('shopTip', { tip: tip.shopTip })
  const orifice = withUnit(formatQuantity('orifice', tip.orificeM, prefs))
  return t('shopTipNear', { tip: tip.shopTip, orifice })
}

/** The orifice first: makers number their tips differently. */
function Orifice({
  metres,
  tip,
  prefs,
}: Readonly<{ metres: number | null; tip: ShopTip | null; prefs: FormatPrefs }>) {
  const t = useTranslations('jobs')
  if (metres === null) return null
  return (
    <>
      <b className="font-semibold text-ink">{withUnit(formatQuantity('orifice', metres, prefs))}</b>
      {tip ? <span className="type-small">{tipWords(tip, metres, prefs, t)}</span> : null}
    </>
  )
}
