import 'server-only'
import type { ExportList } from './list-sql'
import { GAS_LISTS } from './lists-gas'
import { GEAR_LISTS } from './lists-gear'
import { PEOPLE_LISTS } from './lists-people'
import { WORK_LISTS } from './lists-work'

export const EXPORTS = {
  ...GEAR_LISTS,
  ...GAS_LISTS,
  ...WORK_LISTS,
  ...PEOPLE_LISTS,
} satisfies Record<string, ExportList>
export type ExportName = keyof typeof EXPORTS

export const isExportName = (name: string): name is ExportName => Object.hasOwn(EXPORTS, name)
