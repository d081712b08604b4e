import { acetyleneContents } from './contents-acetylene'
import { assemble } from './contents-assemble'
import { isPermanentSize, realGasContents } from './contents-real-gas'
import type { Contents, ContentsOutcome, CylinderReading, CylinderSize } from './contents-types'
import { CYLINDER_GAS_CODES } from './gas-data'
import { type Refusal, refuse } from './refusal'
import type { Term } from './source'
import { quadrature, rectangular } from './stats'

type WeightReading = Extract<CylinderReading, { kind: 'weight' }>

/** Common practice, no source: a platform scale and a stamped tare that nobody re-weighs. */
const GROSS_U_KG = 0.15
const TARE_U_KG = 0.25
/** Common practice, no source: solvent lost over the years, which a stamped tare does not know. */
const SOLVENT_LOSS_U_KG = 0.3
/** Common practice, no source: a delivery counted as full is within 5 % of nominal. */
const FILL_TOLERANCE = 0.05
/** A weight this far outside empty and full is a mistake, not a reading. */
const OVERFULL = 1.15

/**
 * Mass of gas in a cylinder, with its uncertainty, from one reading.
 *
 * @param reading gauge and temperature; weight and tare; or delivered as full
 * @param size nominal contents, rated pressure and water volume of the size
 * @returns kg with standard uncertainty, 90 % interval and the terms behind it; or the refusals
 * @remarks Uncertainties combine in quadrature (GUM 5.1.2). Gauge class is read as a limit (rectangular).
 * @source oxygen, nitrogen, argon: `realGasContentsKg`; acetylene by gauge: `acetyleneShareFromGauge`; weight: difference.
 */
export function contentsFromReading(reading: CylinderReading, size: CylinderSize): ContentsOutcome {
  const refusals = checkSize(size)
  if (refusals.length > 0) return refuse(refusals)
  if (reading.kind === 'asDelivered') return asDelivered(size)
  if (reading.kind === 'weight') return byWeight(reading, size)
  if (isPermanentSize(size)) return realGasContents(reading, size)
  if (size.gas === 'acetylene') return acetyleneContents(reading, size)
  return refuse([
    {
      code: 'GAUGE_TELLS_NOTHING',
      field: 'reading.kind',
      value: size.gas,
      limit: { allowed: ['weight'] },
      because: 'pressureIsVapourPressure',
      instead: ['weighCylinder'],
    },
  ])
}

function checkSize(size: CylinderSize): Refusal[] {
  const refusals: Refusal[] = []
  if (!(CYLINDER_GAS_CODES as readonly string[]).includes(size.gas))
    refusals.push({ code: 'UNKNOWN_GAS', field: 'size.gas', value: String(size.gas), limit: null })
  if (!(size.nominalKg > 0 && Number.isFinite(size.nominalKg))) {
    refusals.push({
      code: 'OUT_OF_RANGE',
      field: 'size.nominalKg',
      value: size.nominalKg,
      limit: { above: 0, unit: 'kg' },
    })
  }
  return refusals
}

function byWeight(reading: WeightReading, size: CylinderSize): ContentsOutcome {
  const { grossKg, tareKg } = reading
  const chain = weightTerms(reading, size)
  const standardUncertaintyKg = quadrature(chain.map((term) => term.contribution))
  const min = tareKg - 3 * standardUncertaintyKg
  const max = tareKg + OVERFULL * size.nominalKg + 3 * standardUncertaintyKg
  if (!(tareKg > 0))
    return refuse([
      {
        code: 'OUT_OF_RANGE',
        field: 'reading.tareKg',
        value: tareKg,
        limit: { above: 0, unit: 'kg' },
      },
    ])
  if (!(grossKg >= min && grossKg <= max)) {
    return refuse([
      {
        code: 'OUT_OF_RANGE',
        field: 'reading.grossKg',
        value: grossKg,
        limit: { min, max, unit: 'kg' },
      },
    ])
  }
  return assemble(size, Math.max(0, grossKg - tareKg), chain, {
    formulaCode: 'contentsByWeight',
    inputs: [
      { name: 'grossKg', value: grossKg, unit: 'kg' },
      { name: 'tareKg', value: tareKg, unit: 'kg' },
    ],
    tableId: null,
    provenance: 'entered',
  })
}

function weightTerms(reading: WeightReading, size: CylinderSize): Term[] {
  const grossU = reading.grossStandardUncertaintyKg ?? GROSS_U_KG
  const tareU = reading.tareStandardUncertaintyKg ?? TARE_U_KG
  const terms: Term[] = [
    {
      code: 'scale',
      value: grossU,
      unit: 'kg',
      contribution: grossU,
      provenance: 'common practice',
    },
    { code: 'tare', value: tareU, unit: 'kg', contribution: tareU, provenance: 'common practice' },
  ]
  if (size.gas !== 'acetylene') return terms
  return [
    ...terms,
    {
      code: 'solventLoss',
      value: SOLVENT_LOSS_U_KG,
      unit: 'kg',
      contribution: SOLVENT_LOSS_U_KG,
      provenance: 'common practice',
    },
  ]
}

function asDelivered(size: CylinderSize): Contents {
  const fillU = rectangular(FILL_TOLERANCE * size.nominalKg)
  const chain: Term[] = [
    {
      code: 'fill',
      value: FILL_TOLERANCE,
      unit: '1',
      contribution: fillU,
      provenance: 'common practice',
    },
  ]
  return assemble(size, size.nominalKg, chain, {
    formulaCode: 'contentsAsDelivered',
    inputs: [{ name: 'nominalKg', value: size.nominalKg, unit: 'kg' }],
    tableId: null,
    provenance: 'common practice',
  })
}
