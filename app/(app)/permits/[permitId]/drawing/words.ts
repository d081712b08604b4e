'use client'

import { useTranslations } from 'next-intl'
import { usePrefs } from '@/app/_components/live/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { M_PER_FT } from '@/lib/permit/drawing'
import type { MarkFinding } from '@/lib/permit/drawing-findings'

/** "34 ft", "34.5 ft", in this person's units. */
export function useDistanceWords(): (feet: number) => string {
  const prefs = usePrefs()
  return (feet) => {
    const { value, unit } = formatQuantity('distance', feet * M_PER_FT, prefs)
    return `${value.replace(/\.0$/, '')} ${unit}`
  }
}

export interface FindingWords {
  /** "about 34 ft, 10 ft lower". */
  readonly where: string
  /** What it lies closer than, at or within, with where that is written; in heat. */
  readonly caught: readonly string[]
  /** Texts that leave it to a person. */
  readonly judged: string | null
}

/** A finding in words: how far, and which texts catch it. */
export function useFindingWords(): (finding: MarkFinding) => FindingWords {
  const t = useTranslations('permit.drawing')
  const distance = useDistanceWords()
  return ({ distance: found, wordings, isElsewhere, isLower }) => {
    if (!found) return { where: t('noDistance'), caught: [], judged: null }
    const level = distance(found.levelFt)
    const far = found.isMeasured ? level : t('about', { distance: level })
    const where =
      isElsewhere && found.heightFt > 0
        ? t(isLower ? 'andLower' : 'andHigher', { far, height: distance(found.heightFt) })
        : far
    const source = (one: (typeof wordings)[number]) => one.citation ?? t('companyRule')
    const caughtOnes = wordings.filter((one) => one.isCaught === true)
    const groups = [...new Set(caughtOnes.map((one) => `${one.comparison} ${one.limitFt ?? ''}`))]
    const judgedBy = wordings.filter((one) => one.isCaught === null).map(source)
    return {
      where,
      caught: groups.map((group) => {
        const same = caughtOnes.filter((one) => `${one.comparison} ${one.limitFt ?? ''}` === group)
        const [first] = same
        return t('caught', {
          comparison: first?.comparison ?? 'any',
          limit: first?.limitFt ? distance(first.limitFt) : '',
          sources: [...new Set(same.map(source))].join('. '),
        })
      }),
      judged:
        judgedBy.length > 0 ? t('judged', { sources: [...new Set(judgedBy)].join('. ') }) : null,
    }
  }
}
