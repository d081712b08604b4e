import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { v7 as uuidv7 } from 'uuid'
import { afterEach, beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { getCylinder } from '@/lib/data/cylinders'
import { quarantineCylinder, releaseCylinder, returnCylinder } from '@/lib/data/cylinders-acts'
import { recordFill, sendForTest } from '@/lib/data/cylinders-life'
import { takeInCylinder } from '@/lib/data/cylinders-take-in'
import { receiveDelivery } from '@/lib/data/deliveries'
import { swapCylinder } from '@/lib/data/swaps'
import { takeInSchema } from '@/lib/schemas/cylinder-life'
import { deliverySchema } from '@/lib/schemas/delivery'
import { swapSchema } from '@/lib/schemas/swap'
import { testDatabase } from '../setup/database'
import {
  insert,
  newOutfit,
  newSite,
  newSupplier,
  newViewer,
  refusal,
  setCompany,
} from './gas-world'

/** The published decisions: 49 CFR 180.205 and 180.209, eCFR January 2025, each with its rule in the file. */
type Vector = Readonly<{
  id: string
  kind: string
  title: string
  input: Readonly<{
    spec: string
    today: string
    last?: string | null
    star?: boolean
    gas?: string
    manufactured?: string
    service?: string
    filled?: string
    condition?: string
  }>
  expected: Readonly<{
    due?: string
    shell_due?: string
    filler_latest?: string
    may_fill?: boolean
    may_use_contents?: boolean
    star_void?: boolean
    reason?: string
  }>
}>

const FILE = new URL('../vectors/rules/permit-decision-vectors.json', import.meta.url)
const VECTORS = (
  JSON.parse(readFileSync(fileURLToPath(FILE), 'utf8')) as { vectors: Vector[] }
).vectors.filter((one) => one.kind === 'requalification')

let siteId: string
let yard: Viewer
let supplierId: string

const by = (cylinderId: string) => ({ key: uuidv7(), cylinderId })
const because = (cylinderId: string) => ({ ...by(cylinderId), reason: 'Seen by Mei' })
/** The middle of a month, for a stamp that says no day. */
const inMonth = (month: string | null | undefined) => (month ? `${month}-15` : '')
const serialOf = () => `RQ-${uuidv7().slice(-12).toUpperCase()}`

/** Noon at the site on that day. */
const setDay = (day: string) => testDatabase().setClock(Date.parse(`${day}T18:00:00Z`) - Date.now())

function sizeOf({ gas, spec, service }: Vector['input']): string {
  if (gas === 'carbon_monoxide') return 'carbon-monoxide-200'
  if (spec.startsWith('8')) return 'acetylene-225'
  return service === 'noncorrosive_coated' ? 'propane-100' : 'oxygen-244'
}

/** Taken in as somebody would whose plate says what the vector says; full only where it was filled in time. */
async function takenIn({ input }: Vector): Promise<string> {
  const isSound = input.condition === undefined
  const { cylinderId } = await takeInCylinder(
    yard,
    takeInSchema.parse({
      key: uuidv7(),
      siteId,
      how: 'bought',
      serial: serialOf(),
      sizeId: sizeOf(input),
      vessel: 'cylinder',
      spec: `DOT ${input.spec}`,
      madeMonth: input.manufactured ?? '',
      testedOn: inMonth(input.last),
      filledOn: inMonth(input.filled),
      ...(input.star ? { isStarred: 'yes' } : {}),
      ...(input.filled || !isSound ? {} : { isEmpty: 'yes' }),
    }),
  )
  if (input.condition)
    await quarantineCylinder(yard, {
      ...because(cylinderId),
      condition: input.condition as 'heat_damage',
    })
  return cylinderId
}

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  yard = await newViewer(siteId, 'yard_hand', 'operator')
  supplierId = await newSupplier()
  await insert('gases', { id: 'carbon_monoxide', name: 'Carbon monoxide', side: 'shield' })
  await insert('cylinder_sizes', {
    id: 'carbon-monoxide-200',
    gas_id: 'carbon_monoxide',
    name: '200 ft³',
    nominal_kg: 6,
    heel_kg: 0.3,
    source: 'test',
  })
})
afterEach(() => testDatabase().setClock(0))

describe('the published requalification cases, through what the screens do', () => {
  test('are all here', () => {
    expect(VECTORS).toHaveLength(8)
  })

  test.each(VECTORS)('$id: $title', async (vector) => {
    const { input, expected } = vector
    await setDay(input.today)
    const id = await takenIn(vector)
    const seen = await getCylinder(yard, id)
    // What the page shows.
    expect(seen.test).toMatchObject({
      ...(expected.due ? { due: expected.due } : {}),
      ...(expected.shell_due ? { shellDue: expected.shell_due } : {}),
      ...(expected.filler_latest ? { fillerLatest: expected.filler_latest } : {}),
      ...(expected.may_fill === undefined ? {} : { mayFill: expected.may_fill }),
      ...(expected.may_use_contents ? { mayUseContents: true } : {}),
    })
    if (expected.star_void) expect(seen.test?.reasons).toContain('star_void')
    if (expected.reason) expect(seen.test?.reasons).toContain('condition')
    // What the record lets happen.
    const filling = recordFill(yard, {
      ...by(id),
      filledOn: new Date(`${input.today}T00:00:00Z`),
      batch: null,
    })
    if (expected.may_fill === false)
      await expect(filling).rejects.toEqual(
        refusal(input.condition ? 'CYLINDER_QUARANTINED' : 'PAST_DUE'),
      )
    else await expect(filling).resolves.toMatchObject({})
    expect((await getCylinder(yard, id)).status).toBe(
      input.condition
        ? 'quarantined'
        : expected.may_fill === false && !input.filled
          ? 'empty'
          : 'full',
    )
    if (input.condition)
      await expect(releaseCylinder(yard, because(id))).rejects.toEqual(
        refusal('CONDITION_NEEDS_TEST'),
      )
    // Sending it to be tested is allowed, whatever its date and whatever is wrong with it.
    await sendForTest(yard, by(id))
    expect((await getCylinder(yard, id)).status).toBe('at_test')
  })

  test('one that was filled in time is put on, used up and returned long after its month', async () => {
    const vector = VECTORS.find(({ input }) => input.filled)
    if (!vector) throw new Error('no case was filled in time')
    await setDay(vector.input.today)
    const id = await takenIn(vector)
    const { serial } = await getCylinder(yard, id)
    const outfitId = await newOutfit(siteId)
    const swap = { outfitId, side: 'oxygen', place: '1', shutAndBled: 'yes', leakTested: 'yes' }
    await swapCylinder(yard, swapSchema.parse({ key: uuidv7(), ...swap, onSerial: serial }))
    expect((await getCylinder(yard, id)).status).toBe('in_use')
    const next = await takenIn({ ...vector, input: { ...vector.input, last: '2024-03' } })
    const { serial: nextSerial } = await getCylinder(yard, next)
    await swapCylinder(
      yard,
      swapSchema.parse({
        key: uuidv7(),
        ...swap,
        onSerial: nextSerial,
        offCylinderId: id,
        markedEmpty: 'yes',
      }),
    )
    expect((await getCylinder(yard, id)).status).toBe('empty')
    await returnCylinder(yard, by(id))
    expect((await getCylinder(yard, id)).status).toBe('returned')
  })

  test('one past its month comes in full only where it was filled before the month was over', async () => {
    await setDay('2026-04-10')
    const arrive = (filledOn: string, serial = serialOf()) =>
      receiveDelivery(
        yard,
        deliverySchema.parse({
          key: uuidv7(),
          siteId,
          supplierId,
          rows: [{ serial, sizeId: 'oxygen-244', dueMonth: '2026-03', filledOn }],
        }),
      )
    // 49 CFR 180.205(c): the month itself is still in time.
    await expect(arrive('2026-03-31')).resolves.toMatchObject({})
    await expect(arrive('2026-04-01')).rejects.toMatchObject({
      reasons: [expect.objectContaining({ code: 'ROW_PAST_DUE' })],
    })
    await expect(arrive('')).rejects.toMatchObject({
      reasons: [expect.objectContaining({ code: 'ROW_PAST_DUE_FILL_UNKNOWN' })],
    })
  })
})
