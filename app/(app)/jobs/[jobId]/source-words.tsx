import { useTranslations } from 'next-intl'
import { SECTION_TABLE_ID } from '@/lib/calc/sections/named-section'
import type { Source } from '@/lib/calc/source'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'

const PROVENANCE_KEYS = {
  read: 'read',
  'from memory': 'fromMemory',
  derived: 'derived',
  'common practice': 'commonPractice',
  entered: 'entered',
} as const

type Table = Readonly<{ title: string; source: string }>

/** Which table it was looked up in: the built-in one, the shop's own, or one of sections. */
function useTableWords(): (tableId: string | null, own: Table | null) => string {
  const t = useTranslations('jobs.source')
  return (tableId, own) => {
    if (tableId === null) return ''
    if (tableId === OFC_CARBON_STEEL.id)
      return t('table', { title: OFC_CARBON_STEEL.title, source: OFC_CARBON_STEEL.source })
    if (Object.values(SECTION_TABLE_ID).includes(tableId))
      return t(`sections.${tableId}` as 'sections.astm-a6-w')
    return own ? t('ownTable', own) : ''
  }
}

/** Formula, table, and whether it was read or is from memory, in a sentence. */
export function SourceWords({
  source,
  table = null,
}: Readonly<{ source: Source; table?: Table | null }>) {
  const [t, words] = [useTranslations('jobs.source'), useTranslations('calcWords.formula')]
  const tableWords = useTableWords()
  const own = `formula.${source.formulaCode}` as 'formula.gasOfJob'
  const shared = source.formulaCode as 'leakRate'
  const formula = t.has(own) ? t(own) : words.has(shared) ? words(shared) : ''
  return (
    <>
      {[
        formula,
        tableWords(source.tableId, table),
        t(`provenance.${PROVENANCE_KEYS[source.provenance]}`),
      ]
        .filter(Boolean)
        .join(' ')}
    </>
  )
}
