import 'server-only'
import { getTranslations } from 'next-intl/server'
import { formatNumber } from '@/lib/format/numbers'
import type { Sheet } from '@/lib/format/workbook'
import { ACCOUNT_ROWS, accountWords, entryWords, JOB_METHODS, type JobReport } from '../job-report'

const ACCOUNT_HEADS = ['gas', 'line', 'kg', 'low', 'high'] as const
const ENTRY_HEADS = [
  'gas',
  'at',
  'cylinder',
  'what',
  'seen',
  'held',
  'heldU',
  'usedSince',
  'doubt',
  'remarks',
] as const

/** One job's audit as sheets, in kilograms: where each gas went, every entry, and the methods. */
export async function jobSheets({ job, prefs, sides }: JobReport): Promise<Sheet[]> {
  const t = await getTranslations('auditReport')
  const lineOf = await accountWords(job, (value) => formatNumber(value, 2))
  const wordsOf = await entryWords(prefs)
  return [
    {
      name: t('account'),
      head: ACCOUNT_HEADS.map((head) => t(`heads.${head}`)),
      rows: sides.flatMap(({ audit, account }) =>
        ACCOUNT_ROWS.map((row) => {
          const { mean, low90, high90 } = account[row]
          return [audit.gas, lineOf(row), mean, low90, high90]
        }),
      ),
    },
    {
      name: t('entries'),
      head: ENTRY_HEADS.map((head) => t(`heads.${head}`)),
      rows: sides.flatMap(({ audit, entries }) =>
        entries.map((entry) => {
          const { reading, heldKg, tookKg, doubtKg } = entry
          const { what, seen, remarks } = wordsOf(entry, audit.gas)
          return [
            audit.gas,
            new Date(reading.atMs).toISOString(),
            reading.serial,
            what,
            seen,
            heldKg,
            reading.standardUncertaintyKg,
            tookKg,
            doubtKg,
            remarks.join('; '),
          ]
        }),
      ),
    },
    {
      name: t('methods'),
      head: [t('methods')],
      rows: JOB_METHODS.map((key) => [t(`method.${key}`)]),
    },
  ]
}
