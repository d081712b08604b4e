import { finding, isAtMost, type StoreFinding } from './finding'
import { STORE_RULES } from './store-catalogue'

export interface StandingCylinder {
  gas: 'oxygen' | 'acetylene' | 'lpg' | 'other_fuel' | 'inert'
  use: 'stored' | 'in_use' | 'moved' | 'hoisted_or_carried'
  /** From vertical with the valve end up, degrees; 90 lies, 180 stands on its head. */
  tiltDeg: number
  isSecured: boolean
  takesCap: boolean
  isCapOn: boolean
  isValveClosed: boolean
  isEmpty: boolean
  waterCapacityLb: number
}

const LB_PER_GAL_WATER = 8.345_404 // 1 US gal = 3.785411784 L (exact) of water at 1 kg/L; 1 lb = 0.45359237 kg (exact)

function upright(cylinder: StandingCylinder): StoreFinding[] {
  const { tiltMaxDeg, smallWaterVolumeGal } = STORE_RULES['ifc-upright-45'].limits
  const isUp = isAtMost(cylinder.tiltDeg, tiltMaxDeg)
  const isSmall = cylinder.waterCapacityLb < smallWaterVolumeGal * LB_PER_GAL_WATER
  const isBrief = cylinder.use === 'hoisted_or_carried'
  const isFuel = cylinder.gas !== 'oxygen' && cylinder.gas !== 'inert'
  return [
    finding('upright', 'osha1926-upright-always', isBrief || (isUp && cylinder.isSecured), {
      mostDeg: tiltMaxDeg,
    }),
    finding('upright', 'ifc-upright-45', isUp || isSmall || isBrief, { mostDeg: tiltMaxDeg }),
    ...(cylinder.gas === 'acetylene' && cylinder.use === 'stored'
      ? [finding('acetylene_up', 'osha1910-acetylene-valve-up', isUp, { mostDeg: tiltMaxDeg })]
      : []),
    ...(isFuel && (cylinder.use === 'in_use' || cylinder.gas === 'lpg')
      ? [finding('fuel_up', 'osha1910-fuel-valve-end-up', isUp, { mostDeg: tiltMaxDeg })]
      : []),
  ]
}

function capped(cylinder: StandingCylinder): StoreFinding[] {
  const { waterCapacityLb } = STORE_RULES['osha1910-cap-over-30lb'].limits
  const isConnected = cylinder.use === 'in_use'
  const isOn = cylinder.isCapOn || isConnected
  return [
    finding(
      'takes_cap',
      'osha1910-cap-over-30lb',
      cylinder.takesCap || cylinder.waterCapacityLb <= waterCapacityLb,
      { overLb: waterCapacityLb },
    ),
    finding('cap_on', 'osha1926-caps-in-place', isOn || !cylinder.takesCap),
    finding('cap_on', 'osha1910-caps-hand-tight', isOn || !cylinder.takesCap),
    finding('cap_on', 'ifc-caps', isOn || !cylinder.takesCap),
  ]
}

/**
 * One cylinder as it stands: upright, held so that it cannot fall, capped unless it is in use, its
 * valve shut when it is empty.
 *
 * @source 29 CFR 1926.350(a), 1910.253(b), IFC 5303.5 to 5305.6
 */
export function checkStanding(cylinder: StandingCylinder): StoreFinding[] {
  return [
    ...upright(cylinder),
    finding('secured', 'ifc-secure-cylinders', cylinder.isSecured),
    ...(cylinder.use === 'in_use'
      ? [finding('secured', 'osha1926-steadying-in-use', cylinder.isSecured)]
      : []),
    ...capped(cylinder),
    ...(cylinder.isEmpty
      ? [finding('empty_valve', 'osha1910-empty-valves-closed', cylinder.isValveClosed)]
      : []),
  ]
}
