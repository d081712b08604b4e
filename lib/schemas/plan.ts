import { z } from 'zod'
import type { PlanChange } from '../calc/supply-plan-edit'

/** What is asked of a plan, from the page's address: anything that is not understood counts as not asked. */
const askSchema = z.object({
  late: z.coerce.number().int().min(0).max(7).catch(0),
  truck: z.enum(['yes', 'no']).catch('yes'),
  addSite: z.uuid().nullable().catch(null),
  addGas: z.string().max(40).nullable().catch(null),
  addCylinders: z.coerce.number().int().min(0).max(60).catch(0),
  site: z.uuid().nullable().catch(null),
  gas: z.string().max(40).nullable().catch(null),
  size: z.string().max(40).nullable().catch(null),
  change: z.string().max(4000).catch(''),
})

export type PlanAsk = Readonly<{
  /** Days by which every supplier is late. */
  late: number
  hasTruck: boolean
  addSite: string | null
  addGas: string | null
  addCylinders: number
  /** The site, gas and size that are drawn. */
  site: string | null
  gas: string | null
  size: string | null
  changes: readonly PlanChange[]
}>

const MOST_CHANGES = 40
const MOST_CYLINDERS = 60

/** "LINE~SIZE~3" for another number, "LINE~~0" for a line left out; one after the other with a bar between. */
function changesIn(text: string): PlanChange[] {
  return text
    .split('|')
    .slice(0, MOST_CHANGES)
    .flatMap((part) => {
      const [key = '', sizeId = '', count = ''] = part.split('~')
      if (key === '' || !/^\d{1,2}$/.test(count)) return []
      const quantity = Math.min(MOST_CYLINDERS, Number(count))
      return [{ key, sizeId: sizeId === '' ? null : sizeId, quantity }]
    })
}

/** The changes as they stand in an address. */
export const changesText = (changes: readonly PlanChange[]): string =>
  changes.map(({ key, sizeId, quantity }) => `${key}~${sizeId ?? ''}~${quantity}`).join('|')

export function planAskOf(asked: Readonly<Record<string, string | string[] | undefined>>): PlanAsk {
  const { truck, change, ...rest } = askSchema.parse(asked)
  return { ...rest, hasTruck: truck === 'yes', changes: changesIn(change) }
}
