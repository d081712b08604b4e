import { useTranslations } from 'next-intl'
import { Wordmark } from '@/app/_components/wordmark'
import { coatingAdvice, isCoatingCode } from '@/lib/calc/materials'
import { numberDrillOf } from '@/lib/calc/tables/number-drills'
import { UNITS } from '@/lib/calc/units'
import type { SetUp } from '@/lib/data/set-up'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { STORE_RULES } from '@/lib/rules/store-catalogue'
import { withUnit } from '../../figures'
import { PieceWords } from '../../piece-words'
import { cutTitle, sectionWords } from '../cut-title'
import { thicknessWords } from '../thickness-words'
import { RegulatorPart } from './regulator-part'
import { SetUpOrder } from './set-up-order'

type CardProps = Readonly<{ setUp: SetUp; where: string; prefs: FormatPrefs }>

/** How to set the torch for one cut, on one page that can lie beside it. */
export function Card({ setUp, where, prefs }: CardProps) {
  const [t, jobs] = [useTranslations('card'), useTranslations('jobs')]
  const { job, cut, outfitNumber } = setUp
  return (
    <article className="set-up-card">
      <header className="card-head">
        <p>
          <Wordmark />
        </p>
        <h1>{t('heading')}</h1>
        <p className="card-where">
          {cutTitle(cut, jobs, prefs)}.{' '}
          {cut.title ? `${sectionWords(cut.dims, jobs, prefs)}. ` : ''}
          {where}, {job.siteName}.{' '}
          {outfitNumber ? t('outfit', { number: outfitNumber }) : t('noOutfit')}
        </p>
      </header>
      <p className="card-first">{t('makerFirst')}</p>
      <Torch setUp={setUp} prefs={prefs} />
      <div className="card-gases">
        <RegulatorPart side={setUp.oxygen} prefs={prefs} />
        <RegulatorPart side={setUp.fuel} prefs={prefs} />
      </div>
      <SetUpOrder fuel={setUp.fuel.gas} />
      <section className="card-backfire">
        <h2>{t('backfireTitle')}</h2>
        <p>
          <b>{t('backfireFirst')}</b> {t('backfireThen')}
        </p>
        <p>{t('flashback')}</p>
      </section>
      <section>
        <h2>{t('cautionsTitle')}</h2>
        <ul className="card-cautions">
          <li>
            <PieceWords piece={setUp.piece} prefs={prefs} />
          </li>
          {(['permit', 'oil', 'upright', 'acetylene', 'fume'] as const)
            .filter((code) => code !== 'acetylene' || setUp.fuel.gas === 'acetylene')
            .map((code) => (
              <li key={code}>{t(`caution.${code}`)}</li>
            ))}
          <CoatingCaution coating={cut.coating} />
        </ul>
      </section>
      <footer className="card-foot">
        <p>{t('foot')}</p>
      </footer>
    </article>
  )
}

/** What is on this metal, and what that asks for in the open; a space asks for more, on the permit. */
function CoatingCaution({ coating }: Readonly<{ coating: string }>) {
  const [t, jobs, words] = [
    useTranslations('card'),
    useTranslations('jobs'),
    useTranslations('precautions'),
  ]
  const advice = isCoatingCode(coating) ? coatingAdvice(coating) : null
  if (!advice) return null
  const name = { coating: jobs(`coatings.${advice.coating}`) }
  const said = advice.inTheOpen.map(({ precaution }) => words(precaution as 'filter-respirator'))
  return (
    <li>
      <b>{jobs(advice.mustBeTestedFirst ? 'coatingTest' : 'coatingFume', name)}</b> {said.join(' ')}{' '}
      {t('inSpace')}
    </li>
  )
}

function Torch({ setUp, prefs }: Readonly<{ setUp: SetUp; prefs: FormatPrefs }>) {
  const t = useTranslations('card')
  const { settings, shade, opened } = setUp
  const { orificeM, tip } = settings
  const drill = tip ? numberDrillOf(tip.orificeM / UNITS.in.toBase) : null
  return (
    <>
      <dl className="card-torch">
        <div>
          <dt>{t('orifice')}</dt>
          <dd>
            {orificeM === null
              ? t('orificeUnknown')
              : withUnit(formatQuantity('orifice', orificeM, prefs))}
            {tip ? (
              <small>
                {t('shopTip', { tip: tip.shopTip })}
                {drill === null ? '' : `, ${t('drill', { number: drill })}`}
              </small>
            ) : null}
          </dd>
        </div>
        <div>
          <dt>{t('along')}</dt>
          <dd>{thicknessWords(settings.pathM, prefs)}</dd>
        </div>
        <div>
          <dt>{t('speed')}</dt>
          <dd>
            {withUnit(
              formatQuantity(settings.isArea ? 'areaRate' : 'speed', settings.speedMPerS, prefs),
            )}
          </dd>
        </div>
        <div>
          <dt>{t('lens')}</dt>
          <dd>
            {t('shade', { shade: shade.minimum })}
            {shade.guide ? (
              <small>{t('shadeGuide', { least: shade.guide.least, most: shade.guide.most })}</small>
            ) : null}
          </dd>
        </div>
      </dl>
      <p className="card-source">
        {setUp.cut.dims.own
          ? t('ownFigures')
          : t(opened.table.provenance === 'entered' ? 'ownChart' : 'builtIn', {
              title: opened.table.title,
              source: opened.table.source,
            })}{' '}
        {t('lensSource', { list: shade.ruleIds.map((id) => STORE_RULES[id].citation).join(', ') })}
      </p>
    </>
  )
}
