import fc from 'fast-check'
import { hoseSetting } from '@/lib/calc/hose'
import { hoseStartAbsKpa } from '@/lib/calc/hose-loss'
import { HOSE_BORE_CODES } from '@/lib/calc/tables/hoses'

export const name = 'No hose and no setting that is given puts acetylene above 15 psig'

const CASES = 100_000
const FIFTEEN_PSIG_KPA = 103.421_36

const asked = fc.record({
  gas: fc.constant('acetylene' as const),
  flowM3PerS: fc.double({ min: 0, max: 0.003, noNaN: true }),
  bore: fc.constantFrom(...HOSE_BORE_CODES),
  lengthM: fc.double({ min: 0, max: 150, noNaN: true }),
  tipGaugePressureKpa: fc.double({ min: 0, max: 130, noNaN: true }),
  lossesAtRegulatorKpa: fc.double({ min: 0, max: 60, noNaN: true }),
  lossesAtTorchKpa: fc.double({ min: 0, max: 60, noNaN: true }),
  temperatureK: fc.double({ min: 240, max: 330, noNaN: true }),
})

/** A setting above the limit, a refusal of another kind, or an alternative that would not work is a failure. */
export async function run() {
  const failures: string[] = []
  for (const one of fc.sample(asked, { numRuns: CASES, seed: 1910 })) {
    const outcome = hoseSetting(one)
    if (outcome.ok) {
      const { mean } = outcome.regulatorGaugePressureKpa
      if (!(mean <= FIFTEEN_PSIG_KPA * (1 + 1e-8))) failures.push(JSON.stringify({ one, mean }))
      const again = hoseStartAbsKpa({ ...one, boreM: 0.0254, frictionFactor: 1 }, 101.325)
      if (again === null || !Number.isFinite(again)) failures.push(JSON.stringify({ one, again }))
      continue
    }
    const [refusal] = outcome.refusals
    if (refusal?.code !== 'ACETYLENE_ABOVE_15_PSIG') failures.push(JSON.stringify(refusal))
    const named = refusal?.instead?.find((code) => code.startsWith('bore:'))?.slice(5)
    const bore = HOSE_BORE_CODES.find((code) => code === named)
    if (bore && !hoseSetting({ ...one, bore }).ok) failures.push(JSON.stringify({ one, bore }))
  }
  return { cases: CASES, failures }
}
