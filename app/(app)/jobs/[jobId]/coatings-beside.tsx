import { useTranslations } from 'next-intl'
import { coatingAdvice, isCoatingCode } from '@/lib/calc/materials'
import { CoatingWords } from './coating-words'

/** Fume, respirator and tests of what is on the metal, beside the estimate: one line each that opens. */
export function CoatingsBeside({ coatings }: Readonly<{ coatings: readonly string[] }>) {
  const t = useTranslations('jobs')
  const asked = [...new Set(coatings)].filter(isCoatingCode).filter((code) => code !== 'none')
  if (asked.length === 0) return null
  return (
    <div className="coatings-beside">
      {asked.map((coating) => (
        <details key={coating}>
          <summary>
            {t(coatingAdvice(coating)?.mustBeTestedFirst ? 'coatingTest' : 'coatingFume', {
              coating: t(`coatings.${coating}`),
            })}
          </summary>
          <CoatingWords coating={coating} />
        </details>
      ))}
    </div>
  )
}
