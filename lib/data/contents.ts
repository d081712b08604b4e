import 'server-only'
import { type CatalogueSize, supplySizeOf } from '@/lib/calc/catalogue-size'
import { contentsFromReading } from '@/lib/calc/contents'
import type { Contents, ContentsOutcome, CylinderReading } from '@/lib/calc/contents-types'
import { gaugeKpaFromPsig, STANDARD_TEMPERATURE_K } from '@/lib/calc/units'
import { AppError } from '@/lib/errors'
import type { Reading } from '@/lib/schemas/cylinder'

/** Nobody cuts an oxygen cylinder to zero. Common practice, no source; a size may say otherwise. */
const CHANGE_OXYGEN_AT_KPA = gaugeKpaFromPsig(150)

export type SizeRow = CatalogueSize & Readonly<{ name: string; tareKg: number | null }>

export const SIZE_COLUMNS = {
  id: true,
  gasId: true,
  name: true,
  nominalKg: true,
  waterVolumeL: true,
  fullGaugeKpa: true,
  tareKg: true,
  heelKg: true,
  changeAtGaugeKpa: true,
} as const

const times = (value: number | null, holds: number) => (value === null ? null : value * holds)

/** What is filled, read and emptied as one: a pack counts as so many of its size, manifolded. */
export function asOneVessel<T extends SizeRow>(size: T, holds: number): T {
  if (holds === 1) return size
  return {
    ...size,
    nominalKg: size.nominalKg * holds,
    heelKg: size.heelKg * holds,
    waterVolumeL: times(size.waterVolumeL, holds),
    tareKg: times(size.tareKg, holds),
  }
}

export type ReserveOfSize = Readonly<{ reserveKg: number; changeAtGaugeKpa: number | null }>

/** What is left in a cylinder of this size when it is changed. */
export function reserveOf(size: SizeRow): ReserveOfSize {
  const calcSize = supplySizeOf(size)
  if (size.gasId !== 'oxygen' || !calcSize)
    return { reserveKg: size.heelKg, changeAtGaugeKpa: size.changeAtGaugeKpa }
  const changeAtGaugeKpa = size.changeAtGaugeKpa ?? CHANGE_OXYGEN_AT_KPA
  const atChange = contentsFromReading(
    { kind: 'gauge', gaugePressureKpa: changeAtGaugeKpa, temperatureK: STANDARD_TEMPERATURE_K },
    calcSize,
  )
  return { reserveKg: atChange.ok ? atChange.gasKg : size.heelKg, changeAtGaugeKpa }
}

/** Contents that nobody read: full as delivered, with the filler's tolerance. */
export function deliveredUKg(size: SizeRow): number {
  const calcSize = supplySizeOf(size)
  const outcome = calcSize ? contentsFromReading({ kind: 'asDelivered' }, calcSize) : null
  return outcome?.ok ? outcome.standardUncertaintyKg : 0
}

/** What a reading means; a weight needs the cylinder's own tare, else the size's. */
export function contentsOf(
  reading: Reading,
  size: SizeRow,
  ownTareKg: number | null,
): ContentsOutcome {
  const calcSize = supplySizeOf(size)
  if (!calcSize) throw new AppError('GAS_NOT_COUNTED', { gas: size.gasId })
  return contentsFromReading(toCalcReading(reading, ownTareKg ?? size.tareKg), calcSize)
}

function toCalcReading(reading: Reading, tareKg: number | null): CylinderReading {
  if (reading.kind === 'gauge') return reading
  if (tareKg === null) throw new AppError('TARE_UNKNOWN')
  return { kind: 'weight', grossKg: reading.grossKg, tareKg }
}

/** Contents, or every reason why the reading tells none, as one refusal. */
export function contentsOrRefuse(
  reading: Reading,
  size: SizeRow,
  ownTareKg: number | null,
): Contents {
  const outcome = contentsOf(reading, size, ownTareKg)
  if (outcome.ok) return outcome
  const reasons = outcome.refusals.map(({ code, field, value, limit }) => ({
    code: `READING_${code}`,
    params: {
      field,
      value: value ?? '',
      min: limit?.min ?? '',
      max: limit?.max ?? '',
      unit: limit?.unit ?? '',
    },
  }))
  throw new AppError('READING_REFUSED', { count: reasons.length }, reasons)
}

/** The columns of an event that keep a reading and what it meant. */
export function readingColumns(reading: Reading, contents: Contents) {
  const observed =
    reading.kind === 'gauge'
      ? { gaugeKpa: reading.gaugePressureKpa, temperatureK: reading.temperatureK }
      : { weightKg: reading.grossKg }
  return { ...observed, contentsKg: contents.gasKg, contentsUKg: contents.standardUncertaintyKg }
}
