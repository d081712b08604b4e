import { useTranslations } from 'next-intl'
import { type CoatingPrecaution, coatingAdvice, isCoatingCode } from '@/lib/calc/materials'
import { findRule } from '@/lib/rules/catalogue'

/** What burning a coating asks for: fume, respirator, tests, in the open and in a space, each with its rule. */
export function CoatingWords({ coating }: Readonly<{ coating: string }>) {
  const t = useTranslations('jobs')
  const advice = isCoatingCode(coating) ? coatingAdvice(coating) : null
  if (!advice) return null
  const { inTheOpen, enclosed, mustBeTestedFirst } = advice
  return (
    <div className="coating-words" role="note">
      <p className="font-semibold">
        {t(mustBeTestedFirst ? 'coatingTest' : 'coatingFume', {
          coating: t(`coatings.${advice.coating}`),
        })}
      </p>
      {mustBeTestedFirst ? (
        <Precautions title={null} precautions={inTheOpen} />
      ) : (
        <>
          <Precautions title={t('inTheOpen')} precautions={inTheOpen} />
          <Precautions title={t('enclosed')} precautions={enclosed} />
        </>
      )}
      <p className="type-small text-ink-2">{t('coatingPermit')}</p>
    </div>
  )
}

function Precautions({
  title,
  precautions,
}: Readonly<{ title: string | null; precautions: readonly CoatingPrecaution[] }>) {
  const [t, words] = [useTranslations('jobs'), useTranslations('precautions')]
  return (
    <>
      {title ? <p className="type-note font-semibold">{title}</p> : null}
      {precautions.length === 0 ? <p className="type-note">{t('noPrecaution')}</p> : null}
      <ul>
        {precautions.map(({ precaution, rules }) => (
          <li key={precaution} className="type-note">
            {words(precaution as 'filter-respirator')}{' '}
            <small className="type-small text-ink-2">
              {rules
                .map((id) => findRule(id)?.citation)
                .filter(Boolean)
                .join('; ')}
            </small>
          </li>
        ))}
      </ul>
    </>
  )
}
