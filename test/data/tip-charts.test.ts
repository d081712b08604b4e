import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { chooseChart, getChart, listCharts, retireChart, saveChart } from '@/lib/data/tip-charts'
import { saveChartSchema } from '@/lib/schemas/tip-chart'
import { insert, newSite, newViewer, refusal, rowsOf, setCompany } from './gas-world'

let siteId: string
let manager: Viewer
let watch: Viewer
let stranger: Viewer

const ROWS =
  'Thickness\tTip\tOrifice\tSpeed\tOxygen\tFuel\tOxygen pressure\n1/2\t1\t0.046\t18-22\t70-90\t8-12\t30-35\n1\t2\t.060\t12-16\t120-150\t9-14\t35-40'

const chart = (over: Record<string, string> = {}) =>
  saveChartSchema.parse({
    key: uuidv7(),
    siteId,
    title: 'Card on the shop wall',
    source: 'Typed from the card of 2021',
    fuel: 'acetylene',
    material: 'carbon_steel',
    rows: ROWS,
    ...over,
  })

async function newOutfit(fuel = 'acetylene', atSite = siteId) {
  const id = uuidv7()
  await insert('outfits', {
    id,
    site_id: atSite,
    number: `T${id.slice(-10)}`,
    fuel_gas_id: fuel,
  })
  return id
}

const choose = (outfitId: string, chartId: string | null) => ({ key: uuidv7(), outfitId, chartId })
const chartOf = async (outfitId: string) =>
  (await listCharts(manager)).outfits.find((outfit) => outfit.id === outfitId)?.chartId

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  manager = await newViewer(siteId, 'shop_manager')
  watch = await newViewer(siteId, 'fire_watch')
  stranger = await newViewer(await newSite(), 'shop_manager')
})

describe('a shop’s own chart', () => {
  test('is kept as entered, and shows who entered it', async () => {
    const { id } = await saveChart(manager, chart())
    const kept = await getChart(watch, id)
    expect(kept).toMatchObject({ title: 'Card on the shop wall', retiredAt: null, mayWrite: false })
    expect(kept.chart).toMatchObject({ provenance: 'entered', materials: ['carbon_steel'] })
    expect(kept.chart.rows[1]).toEqual({
      thicknessIn: 1,
      tip: '2',
      orificeIn: [0.06, 0.06],
      speedInPerMin: [12, 16],
      cuttingOxygenFt3PerH: [120, 150],
      fuelFt3PerH: { acetylene: [9, 14] },
      oxygenPsig: [35, 40],
    })
    const entries = await rowsOf(
      "SELECT act FROM audit_entries WHERE chain = $2 AND table_name = 'tip_charts' AND subject_id = $1",
      [id, siteId],
    )
    expect(entries).toEqual([{ act: 'chart:save' }])
  })

  test('twice with one key is one chart', async () => {
    const input = chart({ title: 'Once' })
    expect(await saveChart(manager, input)).toEqual(await saveChart(manager, input))
    const same = (await listCharts(manager)).charts.filter((one) => one.title === 'Once')
    expect(same).toHaveLength(1)
  })

  test('is chosen by an outfit of its fuel at the viewer’s own site', async () => {
    const { id } = await saveChart(manager, chart())
    const [mine, burnsPropane] = [await newOutfit(), await newOutfit('propane')]
    await chooseChart(manager, choose(mine, id))
    expect(await chartOf(mine)).toBe(id)
    await expect(chooseChart(manager, choose(burnsPropane, id))).rejects.toEqual(
      refusal('CHART_OTHER_FUEL'),
    )
    await expect(chooseChart(watch, choose(mine, null))).rejects.toEqual(refusal('FORBIDDEN'))
    await expect(chooseChart(stranger, choose(mine, null))).rejects.toEqual(refusal('NOT_FOUND'))
    await chooseChart(manager, choose(mine, null))
    expect(await chartOf(mine)).toBeNull()
  })

  test('that takes over from another takes its outfits over; the old one stays to be read', async () => {
    const { id: old } = await saveChart(manager, chart({ title: 'Old' }))
    const outfit = await newOutfit()
    await chooseChart(manager, choose(outfit, old))
    const { id } = await saveChart(manager, chart({ title: 'New', replacesId: old }))
    expect(await chartOf(outfit)).toBe(id)
    expect((await getChart(manager, old)).retiredAt).toBeInstanceOf(Date)
    await expect(chooseChart(manager, choose(outfit, old))).rejects.toEqual(
      refusal('CHART_RETIRED'),
    )
  })

  test('taken out of use leaves its outfits with the built-in table, once', async () => {
    const { id } = await saveChart(manager, chart({ title: 'Going' }))
    const outfit = await newOutfit()
    await chooseChart(manager, choose(outfit, id))
    await retireChart(manager, { key: uuidv7(), chartId: id })
    expect(await chartOf(outfit)).toBeNull()
    await expect(retireChart(manager, { key: uuidv7(), chartId: id })).rejects.toEqual(
      refusal('CHART_RETIRED'),
    )
  })

  test('is entered and taken out of use by who plans alone', async () => {
    const { id } = await saveChart(manager, chart())
    await expect(saveChart(watch, chart())).rejects.toEqual(refusal('FORBIDDEN'))
    await expect(retireChart(watch, { key: uuidv7(), chartId: id })).rejects.toEqual(
      refusal('FORBIDDEN'),
    )
    await expect(saveChart(stranger, chart())).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(retireChart(stranger, { key: uuidv7(), chartId: id })).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
  })
})
