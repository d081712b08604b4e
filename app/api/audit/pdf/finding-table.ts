import 'server-only'
import { getTranslations } from 'next-intl/server'
import { volumeUnit } from '@/app/(app)/audit/audit-view'
import { causeParams, shareWords, sizeWords } from '@/app/(app)/audit/findings/finding-view'
import type { ListedFinding } from '@/lib/data/findings/list'
import { formatAboutMoney } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import type { PdfTable } from './audit-pdf'

const MINOR = 100

/** Findings as a table of the paper, what was decided of each beside it. */
export async function findingTable(
  findings: readonly ListedFinding[],
  { units, currency }: Readonly<{ units: FormatPrefs['units']; currency: string }>,
): Promise<PdfTable> {
  const [t, f] = await Promise.all([getTranslations('auditReport'), getTranslations('findings')])
  return {
    title: t('findings'),
    columns: [
      { head: f('ifThis'), share: 0.34 },
      { head: f('where'), share: 0.14 },
      { head: f('size', { unit: volumeUnit(units) }), share: 0.16, isFigure: true },
      { head: f('probability'), share: 0.1, isFigure: true },
      { head: f('cost'), share: 0.08, isFigure: true },
      { head: f('who'), share: 0.18 },
    ],
    rows: findings.flatMap((finding) => {
      const [cause] = finding.causes
      if (!cause) return []
      const size = sizeWords(cause, finding.gas, units)
      return [
        [
          f('title', causeParams(cause, finding.serials)),
          finding.siteName,
          `${size.value} (${size.interval})`,
          shareWords(cause.probability),
          finding.costMinor === null
            ? f('noPrice')
            : formatAboutMoney(finding.costMinor / MINOR, currency),
          f('standing', {
            decision: finding.standing?.decision ?? 'none',
            who: finding.standing?.personName ?? '',
          }),
        ],
      ]
    }),
  }
}
