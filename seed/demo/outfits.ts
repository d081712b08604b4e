import type { GasCode } from '@/lib/calc/gas-data'
import { convert } from '@/lib/calc/units'
import type { Row } from '../facts'
import { namedUuid } from '../ids'
import type { SizeId } from '../reference'
import { CHARTED_OUTFIT, chartId } from './charts'
import { type CrewKey, TEAMS } from './people'
import type { SiteKey } from './places'
import type { Rig, World } from './world'

type RigPlan = Readonly<{
  number: string
  site: SiteKey
  fuel: GasCode
  oxygen: SizeId
  fuelSize: SizeId
}>

/** Numbered as they were bought, from 1 at the yard; an operator keeps one. */
const RIGS: readonly RigPlan[] = [
  { number: '1', site: 'yard', fuel: 'acetylene', oxygen: 'oxygen-122', fuelSize: 'acetylene-130' },
  { number: '3', site: 'mill', fuel: 'acetylene', oxygen: 'oxygen-244', fuelSize: 'acetylene-225' },
  { number: '4', site: 'mill', fuel: 'acetylene', oxygen: 'oxygen-244', fuelSize: 'acetylene-225' },
  { number: '5', site: 'mill', fuel: 'acetylene', oxygen: 'oxygen-244', fuelSize: 'acetylene-225' },
  { number: '6', site: 'harbor', fuel: 'propane', oxygen: 'oxygen-244', fuelSize: 'propane-100' },
  { number: '7', site: 'harbor', fuel: 'propane', oxygen: 'oxygen-244', fuelSize: 'propane-100' },
  {
    number: '8',
    site: 'viaduct',
    fuel: 'acetylene',
    oxygen: 'oxygen-244',
    fuelSize: 'acetylene-225',
  },
  {
    number: '9',
    site: 'viaduct',
    fuel: 'acetylene',
    oxygen: 'oxygen-244',
    fuelSize: 'acetylene-225',
  },
  { number: '10', site: 'dam', fuel: 'propane', oxygen: 'oxygen-244', fuelSize: 'propane-100' },
  {
    number: '11',
    site: 'depot',
    fuel: 'acetylene',
    oxygen: 'oxygen-330',
    fuelSize: 'acetylene-130',
  },
]

export function openRigs(startMs: number): Rig[] {
  return RIGS.map((plan) => ({
    id: namedUuid(`outfit/${plan.number}`, startMs),
    number: plan.number,
    site: plan.site,
    fuel: plan.fuel,
    sizes: { oxygen: plan.oxygen, fuel: plan.fuelSize },
    on: { oxygen: null, fuel: null },
    truly: { oxygen: null, fuel: null },
    forgetsNext: false,
  }))
}

const crewOf = (site: SiteKey): CrewKey | null => (site === 'yard' ? null : TEAMS[site].crew)

export function outfitRow(world: World, rig: Rig): Row {
  const crew = crewOf(rig.site)
  return {
    id: rig.id,
    site_id: world.siteIds[rig.site],
    crew_id: crew ? world.crewIds[crew] : null,
    number: rig.number,
    fuel_gas_id: rig.fuel,
    tip_chart_id: rig.number === CHARTED_OUTFIT ? chartId(world) : null,
  }
}

const inches = (value: number) => convert({ value, from: 'in', to: 'm' })
const feet = (value: number) => convert({ value, from: 'ft', to: 'm' })

const NO_MEASURES = {
  orifice_m: null,
  shop_tip: null,
  hose_grade: null,
  length_m: null,
  bore_m: null,
}

/** Torch to arrestors; the shop's own tip numbers are invented. */
export function outfitPartRows(world: World, rig: Rig, checkedOn: string): Row[] {
  const hose = {
    hose_grade: rig.fuel === 'acetylene' ? 'R' : 'T',
    length_m: feet(50),
    bore_m: inches(0.25),
  }
  const parts: readonly Readonly<{ kind: string; name: string; more?: Row }>[] = [
    { kind: 'torch', name: 'Hand cutting torch, 75°' },
    { kind: 'tip', name: 'Cutting tip', more: { orifice_m: inches(0.06), shop_tip: '2' } },
    { kind: 'tip', name: 'Cutting tip, heavy', more: { orifice_m: inches(0.082), shop_tip: '4' } },
    { kind: 'hose_oxygen', name: 'Oxygen hose', more: hose },
    { kind: 'hose_fuel', name: 'Fuel hose', more: hose },
    { kind: 'regulator_oxygen', name: 'Oxygen regulator, 4,000 psi gauge' },
    {
      kind: 'regulator_fuel',
      name: rig.fuel === 'acetylene' ? 'Acetylene regulator, 400 psi gauge' : 'Propane regulator',
    },
    { kind: 'arrestor_oxygen', name: 'Flashback arrestor, torch side' },
    { kind: 'arrestor_fuel', name: 'Flashback arrestor, torch side' },
  ]
  return parts.map(({ kind, name, more }, i) => ({
    id: world.scribe.newId(world.startMs),
    outfit_id: rig.id,
    kind,
    name,
    serial: kind === 'tip' ? null : `FD${rig.number.padStart(2, '0')}-${i + 1}`,
    ...NO_MEASURES,
    ...more,
    checked_on: checkedOn,
  }))
}
