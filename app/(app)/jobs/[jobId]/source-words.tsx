import { useTranslations } from 'next-intl'
import type { Source } from '@/lib/calc/source'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'

const KNOWN_FORMULAS = [
  'gasOfJob',
  'oxygenOfCut',
  'fuelOfCut',
  'jobTime',
  'usablePerCylinder',
  'acetyleneDraw',
  'propaneVapour',
  'pieceWeight',
  'oxygenByGauge',
  'acetyleneByGauge',
  'contentsByWeight',
  'contentsAsDelivered',
] as const
type KnownFormula = (typeof KNOWN_FORMULAS)[number]
const isKnown = (code: string): code is KnownFormula =>
  (KNOWN_FORMULAS as readonly string[]).includes(code)

const PROVENANCE_KEYS = {
  read: 'read',
  'from memory': 'fromMemory',
  derived: 'derived',
  'common practice': 'commonPractice',
  entered: 'entered',
} as const

/** Formula, table, and whether it was read or is from memory, in a sentence. */
export function SourceWords({ source }: Readonly<{ source: Source }>) {
  const t = useTranslations('jobs.source')
  const isBuiltIn = source.tableId === OFC_CARBON_STEEL.id
  return (
    <>
      {isKnown(source.formulaCode) ? `${t(`formula.${source.formulaCode}`)} ` : null}
      {isBuiltIn
        ? `${t('table', { title: OFC_CARBON_STEEL.title, source: OFC_CARBON_STEEL.source })} `
        : null}
      {t(`provenance.${PROVENANCE_KEYS[source.provenance]}`)}
    </>
  )
}
