import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { isFuelCode } from '@/lib/calc/gas-data'
import { type HoseSetting, hoseSetting } from '@/lib/calc/hose'
import type { CutOpened } from '@/lib/calc/opened-cut'
import { HOSE_BORE_CODES, HOSE_BORES, type HoseBore } from '@/lib/calc/tables/hoses'
import { type TipPressure, tipPressures } from '@/lib/calc/tip-pressures'
import { UNITS } from '@/lib/calc/units'
import { AppError } from '@/lib/errors'
import { lensShade } from '@/lib/rules/shade'
import { db } from './client'
import type { CutRow } from './cut-rows'
import { type HeaviestPiece, pieceOf } from './estimates'
import { openCut } from './estimates-terms'
import { getJob, type JobDetail } from './jobs'

type HoseOnOutfit = Readonly<{
  bore: HoseBore | null
  boreM: number | null
  lengthM: number | null
  grade: string | null
}>

/** One gas at the regulator: what the tip wants, the hose between, and what to set. */
export type SetUpGas = Readonly<{
  gas: string
  wanted: TipPressure | null
  hose: HoseOnOutfit | null
  /** For the middle of what the tip wants; null where that or the hose is not known. */
  setting: HoseSetting | null
  /** From the low end of what the tip wants to the high, with the doubt about the hose. */
  ends: Readonly<{ lowGaugeKpa: number; highGaugeKpa: number }> | null
}>

export type SetUp = Readonly<{
  job: JobDetail
  cut: CutRow
  opened: CutOpened
  settings: NonNullable<CutOpened['settings']>
  outfitNumber: string | null
  oxygen: SetUpGas
  fuel: SetUpGas
  shade: ReturnType<typeof lensShade>
  piece: HeaviestPiece | null
}>

/** A measured bore within a tenth of a name is that hose. House judgement, no source. */
const SAME_BORE = 0.1

function boreCode(boreM: number | null): HoseBore | null {
  if (boreM === null) return null
  const off = (code: HoseBore) =>
    Math.abs(HOSE_BORES[code].boreIn * UNITS.in.toBase - boreM) / boreM
  return HOSE_BORE_CODES.find((code) => off(code) <= SAME_BORE) ?? null
}

/** The crew's outfit for this fuel and its two hoses. The caller has checked the site. */
async function readOutfit(job: JobDetail, fuel: string) {
  const outfit = await db.outfit.findFirst({
    where: { siteId: job.siteId, crewId: job.crewId, fuelGasId: fuel, state: 'in_service' },
    orderBy: { number: 'asc' },
    select: {
      number: true,
      parts: {
        where: { removedAt: null, kind: { in: ['hose_oxygen', 'hose_fuel'] } },
        select: { kind: true, hoseGrade: true, lengthM: true, boreM: true },
      },
    },
  })
  const hose = (kind: string): HoseOnOutfit | null => {
    const part = outfit?.parts.find((one) => one.kind === kind)
    return part
      ? {
          bore: boreCode(part.boreM),
          boreM: part.boreM,
          lengthM: part.lengthM,
          grade: part.hoseGrade,
        }
      : null
  }
  return {
    number: outfit?.number ?? null,
    oxygenHose: hose('hose_oxygen'),
    fuelHose: hose('hose_fuel'),
  }
}

type Side = Readonly<{ gas: string; flowM3PerS: number; wanted: TipPressure | null }>

function atRegulator({ gas, flowM3PerS, wanted }: Side, hose: HoseOnOutfit | null): SetUpGas {
  const { bore, lengthM } = hose ?? {}
  if (!(gas === 'oxygen' || isFuelCode(gas)) || !wanted || !bore || !lengthM)
    return { gas, wanted, hose, setting: null, ends: null }
  const at = (tipGaugePressureKpa: number) =>
    hoseSetting({ gas, flowM3PerS, bore, lengthM, tipGaugePressureKpa })
  const setting = at((wanted.lowGaugeKpa + wanted.highGaugeKpa) / 2)
  const [low, high] = [at(wanted.lowGaugeKpa), at(wanted.highGaugeKpa)]
  const ends =
    low.ok && high.ok
      ? {
          lowGaugeKpa: low.regulatorGaugePressureKpa.low90,
          highGaugeKpa: high.regulatorGaugePressureKpa.high90,
        }
      : null
  return { gas, wanted, hose, setting, ends }
}

/** All that a set-up card says of one cut; a cut with no number has none. */
export async function getSetUp(viewer: Viewer, jobId: string, cutId: string): Promise<SetUp> {
  const job = await getJob(viewer, jobId)
  const cut = job.list?.cuts.find((row) => row.id === cutId)
  const opened = job.list && cut ? openCut(cut, job.list.estimate, job.tips) : null
  if (!job.list || !cut || !opened?.settings) throw new AppError('NOT_FOUND')
  const { settings } = opened
  const { fuel, process } = job.list
  const outfit = await readOutfit(job, fuel)
  // Whoever gives their own gas for a cut goes by the maker's pressure for it, not by this chart's.
  const wanted =
    isFuelCode(fuel) && !cut.dims.own
      ? tipPressures({ chart: job.chart, fuel, process, pathM: settings.pathM })
      : { oxygen: null, fuel: null }
  const oxygenFlow = settings.cuttingOxygenM3PerS + settings.preheatOxygenM3PerS
  return {
    job,
    cut,
    opened,
    settings,
    outfitNumber: outfit.number,
    oxygen: atRegulator(
      { gas: 'oxygen', flowM3PerS: oxygenFlow, wanted: wanted.oxygen },
      outfit.oxygenHose,
    ),
    fuel: atRegulator(
      { gas: fuel, flowM3PerS: settings.fuelM3PerS, wanted: wanted.fuel },
      outfit.fuelHose,
    ),
    piece: pieceOf(cut),
    shade: lensShade({
      process: 'oxyfuel_cutting',
      thicknessIn: settings.pathM / UNITS.in.toBase,
    }),
  }
}
