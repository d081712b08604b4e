import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { db } from '@/lib/data/client'
import { countCylinders } from '@/lib/data/cylinders-list'
import { swapCylinder } from '@/lib/data/swaps'
import { swapSchema } from '@/lib/schemas/swap'
import { cylinderAt, newOutfit, newSite, newViewer, rowsOf, setCompany } from './gas-world'

let siteId: string
let operator: Viewer

const swap = (outfitId: string, onSerial: string, offCylinderId?: string) =>
  swapSchema.parse({
    key: uuidv7(),
    outfitId,
    side: 'oxygen',
    onSerial,
    shutAndBled: 'yes',
    leakTested: 'yes',
    ...(offCylinderId
      ? {
          offCylinderId,
          gauge: '160',
          gaugeUnit: 'psi',
          temperature: '61',
          temperatureUnit: 'degF',
        }
      : {}),
  })

/** Rows that are in one and not in the other: none when the counts are what the facts say. */
const differences = (kept: string) =>
  rowsOf(
    `(TABLE ${kept} EXCEPT TABLE ${kept}_counted) UNION ALL (TABLE ${kept}_counted EXCEPT TABLE ${kept})`.replace(
      `TABLE ${kept} `,
      `SELECT * FROM ${kept} WHERE cylinders > 0 `,
    ),
  )

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  operator = await newViewer(siteId, 'operator', 'foreman')
})

describe('the counts of a site', () => {
  test('stay what the cylinders and their events say, through swaps at the same moment', async () => {
    const outfits = await Promise.all([newOutfit(siteId), newOutfit(siteId), newOutfit(siteId)])
    const pairs = []
    for (const outfit of outfits)
      pairs.push({
        outfit,
        first: await cylinderAt(siteId, 'oxygen-244', operator),
        second: await cylinderAt(siteId, 'oxygen-244', operator),
      })
    await Promise.all(
      pairs.map(({ outfit, first }) => swapCylinder(operator, swap(outfit, first.serial))),
    )
    await Promise.all(
      pairs.map(({ outfit, first, second }) =>
        swapCylinder(operator, swap(outfit, second.serial, first.id)),
      ),
    )
    expect(await differences('site_stock')).toEqual([])
    expect(await differences('emptied_days')).toEqual([])
    expect(await countCylinders(operator, siteId)).toContainEqual({
      gasId: 'oxygen',
      status: 'in_use',
      count: 3,
    })
    const emptied = await rowsOf<{ cylinders: number }>(
      'SELECT cylinders FROM emptied_days WHERE site_id = $1',
      [siteId],
    )
    expect(emptied).toEqual([{ cylinders: 3 }])
  })

  test('are not for the app to write', async () => {
    await expect(db.$executeRaw`UPDATE site_stock SET cylinders = 0`).rejects.toThrow(/permission/)
    await expect(db.$executeRaw`DELETE FROM emptied_days`).rejects.toThrow(/permission/)
  })
})
