import { z } from 'zod'
import { acetyleneFullGaugeKpa, acetyleneShareFromGauge } from '../../lib/calc/acetylene-gauge'
import { GAUGE_CLASS_CODES, gaugeLimit } from '../../lib/calc/gauge-class'
import { darcyFriction } from '../../lib/calc/hose-loss'
import { hoseVolumeL } from '../../lib/calc/leak-test'
import { oxygenFloorKg } from '../../lib/calc/oxygen-floor'
import { oxygenPressure1916 } from '../../lib/calc/oxygen-pressure'
import {
  compressibility,
  PERMANENT_GAS_CODES,
  realGasContentsKg,
  realGasDensityKgPerM3,
  realGasGaugePressureKpa,
  realGasWaterVolumeL,
} from '../../lib/calc/real-gas'
import { HOSE_BORE_CODES } from '../../lib/calc/tables/hoses'
import { type CalcFunctions, calcFunction } from './calc-function'

const gas = z.enum(PERMANENT_GAS_CODES)
const number = z.number()
const acetyleneGauge = { temperatureK: number, ratedGaugePressureKpa: number }

export const GAS_PHYSICS_FUNCTIONS: CalcFunctions = {
  'real-gas': calcFunction(
    'Compressibility and density of oxygen, nitrogen or argon',
    z.strictObject({ gas, pressureAbsKpa: number, temperatureK: number }),
    (state) => ({
      ok: true,
      z: compressibility(state),
      densityKgPerM3: realGasDensityKgPerM3(state),
    }),
  ),
  'mass-of-gauge': calcFunction(
    'Mass of oxygen, nitrogen or argon in a water volume at a gauge pressure',
    z.strictObject({ gas, gaugePressureKpa: number, temperatureK: number, waterVolumeL: number }),
    (state) => ({ ok: true, gasKg: realGasContentsKg(state) }),
  ),
  'gauge-of-mass': calcFunction(
    'Gauge pressure of a mass of oxygen, nitrogen or argon in a water volume',
    z.strictObject({ gas, gasKg: number, temperatureK: number, waterVolumeL: number }),
    (state) => ({ ok: true, gaugePressureKpa: realGasGaugePressureKpa(state) }),
  ),
  'water-volume': calcFunction(
    'Water volume that makes nominal contents true at 70 °F',
    z.strictObject({ gas, nominalKg: number, ratedGaugePressureKpa: number }),
    (size) => ({ ok: true, waterVolumeL: realGasWaterVolumeL(size) }),
  ),
  'acetylene-share': calcFunction(
    'Share of a full cylinder that an acetylene gauge suggests',
    z.strictObject({ gaugePressureKpa: number, ...acetyleneGauge }),
    (reading) => ({ ok: true, share: acetyleneShareFromGauge(reading) }),
  ),
  'acetylene-full-gauge': calcFunction(
    'Gauge pressure of a full acetylene cylinder at a temperature',
    z.strictObject(acetyleneGauge),
    (state) => ({ ok: true, gaugePressureKpa: acetyleneFullGaugeKpa(state) }),
  ),
  'gauge-limit': calcFunction(
    'How far a gauge of a class may be off where it is read',
    z.strictObject({
      gaugeClass: z.enum(GAUGE_CLASS_CODES),
      fullScaleKpa: number,
      gaugePressureKpa: number,
    }),
    ({ gaugeClass, fullScaleKpa, gaugePressureKpa }) => ({
      ok: true,
      ...gaugeLimit({
        gauge: { gaugeClass, fullScaleKpa },
        gaugePressureKpa,
        defaultFullScaleKpa: fullScaleKpa,
      }),
    }),
  ),
  'hose-volume': calcFunction(
    'Volume of a hose by its nominal bore',
    z.strictObject({ bore: z.enum(HOSE_BORE_CODES), lengthM: number }),
    (hose) => ({ ok: true, volumeL: hoseVolumeL(hose) }),
  ),
  friction: calcFunction(
    'Friction factor of a round tube, laminar to turbulent',
    z.strictObject({ reynolds: number, relativeRoughness: number }),
    (tube) => ({ ok: true, friction: darcyFriction(tube) }),
  ),
  'oxygen-floor': calcFunction(
    'Least oxygen that burning the kerf takes',
    z.strictObject({ lengthM: number, pathM: number }),
    (cut) => ({ ok: true, oxygenKg: oxygenFloorKg(cut) }),
  ),
  'oxygen-pressure-1916': calcFunction(
    'Cutting-oxygen pressure of a printed table of 1916, as history',
    z.strictObject({ pathM: number }),
    ({ pathM }) => ({ ok: true, pressure: oxygenPressure1916(pathM) }),
  ),
}
