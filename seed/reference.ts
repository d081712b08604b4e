import type { GasCode } from '@/lib/calc/gas-data'
import { oxygenContentsKg, waterVolumeFromNominal } from '@/lib/calc/oxygen-real-gas'
import { convert, gasKgFromFt3, gaugeKpaFromPsig, STANDARD_TEMPERATURE_K } from '@/lib/calc/units'
import { insertSql, type Row } from './facts'
import type { Db } from './play'

const GAS_ROWS: readonly { id: GasCode; name: string; side: 'oxygen' | 'fuel' }[] = [
  { id: 'oxygen', name: 'Oxygen', side: 'oxygen' },
  { id: 'acetylene', name: 'Acetylene', side: 'fuel' },
  { id: 'propane', name: 'Propane', side: 'fuel' },
  { id: 'natural_gas', name: 'Natural gas', side: 'fuel' },
  { id: 'propylene', name: 'Propylene', side: 'fuel' },
  { id: 'mps', name: 'MPS (methylacetylene-propadiene, stabilized)', side: 'fuel' },
]

/** Common practice, no source: nobody cuts an oxygen cylinder to zero, the last 150 psi stay in. */
export const OXYGEN_CHANGE_AT_GAUGE_KPA = gaugeKpaFromPsig(150)
/** Common practice, no source: a tenth of nominal stays in a fuel cylinder. */
const FUEL_HEEL_SHARE = 0.1
/** Service pressure of a DOT 8 cylinder. @source 49 CFR 178.59 gives 250 psig (read). */
const ACETYLENE_FULL_GAUGE_KPA = gaugeKpaFromPsig(250)

export type SizeId =
  | 'oxygen-244'
  | 'oxygen-330'
  | 'oxygen-122'
  | 'acetylene-225'
  | 'acetylene-130'
  | 'propane-100'

export type SizeRow = Readonly<{
  id: SizeId
  gas: GasCode
  name: string
  nominalKg: number
  waterVolumeL: number | null
  fullGaugeKpa: number | null
  tareKg: number | null
  heelKg: number
  changeAtGaugeKpa: number | null
  source: string
}>

const pounds = (value: number) => convert({ value, from: 'lb', to: 'kg' })

function oxygenSize(
  id: SizeId,
  size: Readonly<{ ft3: number; fullPsig: number; tareLb: number | null; source: string }>,
): SizeRow {
  const nominalKg = gasKgFromFt3('oxygen', size.ft3)
  const fullGaugeKpa = gaugeKpaFromPsig(size.fullPsig)
  const waterVolumeL = waterVolumeFromNominal({ nominalKg, ratedGaugePressureKpa: fullGaugeKpa })
  const heel = {
    gaugePressureKpa: OXYGEN_CHANGE_AT_GAUGE_KPA,
    temperatureK: STANDARD_TEMPERATURE_K,
    waterVolumeL,
  }
  return {
    id,
    gas: 'oxygen',
    name: `${size.ft3} ft³`,
    nominalKg,
    waterVolumeL,
    fullGaugeKpa,
    tareKg: size.tareLb === null ? null : pounds(size.tareLb),
    heelKg: oxygenContentsKg(heel),
    changeAtGaugeKpa: OXYGEN_CHANGE_AT_GAUGE_KPA,
    source: size.source,
  }
}

function acetyleneSize(
  id: SizeId,
  size: Readonly<{ ft3: number; grossLb: number | null; source: string }>,
): SizeRow {
  const nominalKg = gasKgFromFt3('acetylene', size.ft3)
  return {
    id,
    gas: 'acetylene',
    name: `${size.ft3} ft³`,
    nominalKg,
    waterVolumeL: null,
    fullGaugeKpa: ACETYLENE_FULL_GAUGE_KPA,
    tareKg: size.grossLb === null ? null : pounds(size.grossLb) - nominalKg,
    heelKg: FUEL_HEEL_SHARE * nominalKg,
    changeAtGaugeKpa: null,
    source: size.source,
  }
}

/**
 * The sizes that the company uses.
 *
 * Water volumes of oxygen are fixed once, from nominal contents and full pressure at 70 °F by the real
 * gas (lib/calc/oxygen-real-gas). Change at 150 psi and heels: common practice, no source.
 */
export const SIZES: readonly SizeRow[] = [
  oxygenSize('oxygen-244', {
    ft3: 244,
    fullPsig: 2200,
    tareLb: 121.5,
    source:
      'US Army TC 9-237, oxygen cylinders: 244 ft³ at 2,200 psi and 70 °F, tare 104 to 139 lb, here its middle (read)',
  }),
  oxygenSize('oxygen-330', {
    ft3: 330,
    fullPsig: 2640,
    tareLb: null,
    source:
      'common US trade size (common practice, no source); 2,640 psig is 110 % of 2,400, 49 CFR 173.302a(b), from memory',
  }),
  oxygenSize('oxygen-122', {
    ft3: 122,
    fullPsig: 2200,
    tareLb: null,
    source: 'US Army TC 9-237, oxygen cylinders: 122 ft³ at 2,200 psi and 70 °F (read)',
  }),
  acetyleneSize('acetylene-225', {
    ft3: 225,
    grossLb: 250,
    source: 'NAVEDTRA 14250, acetylene: standard service cylinder 225 ft³, 250 lb in all (read)',
  }),
  acetyleneSize('acetylene-130', {
    ft3: 130,
    grossLb: null,
    source: 'NAVEDTRA 14250, acetylene: 130 ft³ among the most common sizes (read)',
  }),
  {
    id: 'propane-100',
    gas: 'propane',
    name: '100 lb',
    nominalKg: pounds(100),
    waterVolumeL: pounds(239),
    fullGaugeKpa: null,
    tareKg: pounds(71.5),
    heelKg: FUEL_HEEL_SHARE * pounds(100),
    changeAtGaugeKpa: null,
    source:
      'trade: 100 lb, water capacity 239 lb, tare 68 to 75 lb, here its middle (common practice, no source)',
  },
]

/** The size with this id. */
export function sizeOf(id: SizeId): SizeRow {
  const size = SIZES.find((candidate) => candidate.id === id)
  if (!size) throw new Error(`no size ${id}`)
  return size
}

function sizeRow(size: SizeRow): Row {
  return {
    id: size.id,
    gas_id: size.gas,
    name: size.name,
    nominal_kg: size.nominalKg,
    water_volume_l: size.waterVolumeL,
    full_gauge_kpa: size.fullGaugeKpa,
    tare_kg: size.tareKg,
    gross_kg: size.tareKg === null ? null : size.tareKg + size.nominalKg,
    heel_kg: size.heelKg,
    change_at_gauge_kpa: size.changeAtGaugeKpa,
    source: size.source,
  }
}

/** Writes gases and sizes that are not there yet; those that are stay as they are. */
export async function insertReference(client: Db): Promise<number> {
  const gases = await client.query(`${insertSql('gases', GAS_ROWS)} ON CONFLICT DO NOTHING`)
  const sizes = await client.query(
    `${insertSql('cylinder_sizes', SIZES.map(sizeRow))} ON CONFLICT DO NOTHING`,
  )
  return (gases.rowCount ?? 0) + (sizes.rowCount ?? 0)
}
