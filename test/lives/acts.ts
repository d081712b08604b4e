import { v7 as uuidv7 } from 'uuid'
import { lookAgain } from '@/lib/data/permits/clearance'
import { recordGasTest } from '@/lib/data/permits/gas-tests'
import { handOver } from '@/lib/data/permits/hand-over'
import {
  endWork,
  holdPermit,
  reopenPermit,
  resumePermit,
  withdrawPermit,
} from '@/lib/data/permits/hold'
import { issuePermit } from '@/lib/data/permits/issue'
import { logWork } from '@/lib/data/permits/log'
import { signPermit } from '@/lib/data/permits/sign'
import { withdrawStop } from '@/lib/data/permits/stop'
import { tick } from '@/lib/data/tick'
import { closePermit, signOffWatch } from '@/lib/data/watch/close'
import {
  leaveWatch,
  recordFinalLook,
  recordMonitoring,
  recordStatement,
  recordSurvey,
} from '@/lib/data/watch/duties'
import { recordRound } from '@/lib/data/watch/round'
import { stopByCode, stopWork } from '@/lib/data/watch/stop'
import { localClock, localDay } from '@/lib/format/local-time'
import {
  endWorkSchema,
  gasTestSchema,
  handOverSchema,
  holdPermitSchema,
  issuePermitSchema,
  logWorkSchema,
  newLookSchema,
  resumePermitSchema,
  signPermitSchema,
  withdrawPermitSchema,
  withdrawStopSchema,
} from '@/lib/schemas/permit'
import {
  dutySchema,
  finalSignSchema,
  leaveWatchSchema,
  roundSchema,
  statementSchema,
  stopSchema,
} from '@/lib/schemas/watch'
import { CODES, PIN, type Stage, type Who } from './stage'

const MINUTE_MS = 60_000
const POSTS = ['At the work', 'Below']
/** What is said at each post of its code; where posts carry none it is passed over. */
const SCANS = {
  right: CODES.map((code) => ({ code })),
  lost: [{ code: CODES[0] }, { unscanned: 'Label burnt' }],
  other: [{ code: CODES[1] }, { code: CODES[0] }],
  none: [{}, {}],
} as const

type ByWho = Readonly<{ by: Who }>
type Nothing = Readonly<Record<never, never>>

interface Inputs {
  agree: ByWho
  acknowledge: ByWho
  issue: ByWho & Readonly<{ hours: number; arrivedMin: number }>
  resume: ByWho
  reopen: ByWho
  signOff: ByWho
  close: ByWho
  hold: ByWho
  endWork: ByWho
  withdraw: ByWho
  look: ByWho
  press: ByWho
  stop: ByWho
  pressByCode: Nothing
  goBack: ByWho
  tick: Nothing
  air: Readonly<{ oxygen: number; lel: number; cause: string }>
  round: ByWho & Readonly<{ answer: 'clear' | 'warm' | 'smoke'; scan?: keyof typeof SCANS }>
  monitored: ByWho
  finalLook: ByWho
  statement: ByWho
  survey: ByWho
  leave: ByWho
  takeOver: ByWho & Readonly<{ part: 'operator' | 'fire_watch' }>
  log: ByWho & Readonly<{ agoMin: number; forMin: number }>
}
export type ActName = keyof Inputs
/** Something that somebody does about the permit. */
export type Act = { [N in ActName]: Readonly<{ name: N }> & Inputs[N] }[ActName]

const clockAt = async (stage: Stage, minutes: number) => {
  const at = new Date((await stage.context()).now.getTime() + minutes * MINUTE_MS)
  const { zone } = stage.built.site
  return { day: localDay(at, zone), clock: localClock(at, zone) }
}

const ticked = { torchOut: 'yes', valvesShut: 'yes', gasOffOutside: 'yes' }
const found = { found: 'Nothing warm' }

type Doing = { [N in ActName]: (stage: Stage, act: Inputs[N]) => Promise<unknown> }

const signing = async (stage: Stage, { by }: ByWho) => ({
  ...(await stage.form()),
  personId: stage.people[by].id,
  pin: PIN,
})

/** Each act as the app's own actions do it, from the form to the database. */
const DOES: Doing = {
  agree: async (stage, act) =>
    signPermit(
      stage.viewer('foreman'),
      signPermitSchema.parse({ ...(await signing(stage, act)), act: 'agree' }),
    ),
  acknowledge: async (stage, act) =>
    signPermit(
      stage.viewer('foreman'),
      signPermitSchema.parse({ ...(await signing(stage, act)), act: 'acknowledge' }),
    ),
  issue: async (stage, act) => {
    const until = await clockAt(stage, act.hours * 60)
    return issuePermit(
      stage.viewer('foreman'),
      issuePermitSchema.parse({
        ...(await signing(stage, act)),
        arrivedAt: (await clockAt(stage, -act.arrivedMin)).clock,
        validUntilDay: until.day,
        validUntil: until.clock,
      }),
    )
  },
  resume: async (stage, act) =>
    resumePermit(stage.viewer('foreman'), resumePermitSchema.parse(await signing(stage, act))),
  reopen: async (stage, act) =>
    reopenPermit(stage.viewer('foreman'), resumePermitSchema.parse(await signing(stage, act))),
  signOff: async (stage, act) =>
    signOffWatch(stage.viewer('fireWatch'), finalSignSchema.parse(await signing(stage, act))),
  close: async (stage, act) =>
    closePermit(stage.viewer('pai'), finalSignSchema.parse(await signing(stage, act))),
  hold: async (stage, { by }) =>
    holdPermit(
      stage.viewer(by),
      holdPermitSchema.parse({ ...(await stage.form()), ...ticked, reason: 'Lunch' }),
    ),
  endWork: async (stage, { by }) =>
    endWork(stage.viewer(by), endWorkSchema.parse({ ...(await stage.form()), ...ticked })),
  withdraw: async (stage, { by }) =>
    withdrawPermit(
      stage.viewer(by),
      withdrawPermitSchema.parse({ ...(await stage.form()), reason: 'Not needed' }),
    ),
  look: async (stage, { by }) =>
    lookAgain(
      stage.viewer(by),
      newLookSchema.parse({ ...(await stage.form()), sameAsCleared: 'yes', what: 'As it was' }),
    ),
  press: async (stage, { by }) =>
    stopWork(stage.viewer(by), stage.permitId, stopSchema.parse({ key: uuidv7(), step: 'hold' })),
  stop: async (stage, { by }) =>
    stopWork(stage.viewer(by), stage.permitId, stopSchema.parse({ key: uuidv7(), step: 'stop' })),
  pressByCode: (stage) => stopByCode(stage.built.permit.stopCode, { step: 'hold' }),
  goBack: async (stage, act) => {
    const { version: _, ...rest } = await signing(stage, act)
    return withdrawStop(stage.viewer('foreman'), withdrawStopSchema.parse(rest))
  },
  tick: () => tick(),
  air: async (stage, { oxygen, lel, cause }) => {
    const { day } = await clockAt(stage, 0)
    return recordGasTest(
      stage.viewer('foreman'),
      gasTestSchema.parse({
        ...(await stage.form()),
        oxygenPct: String(oxygen),
        lelPct: String(lel),
        oxygenCause: cause,
        instrument: 'GM-1',
        bumpTestedOn: day,
        calibratedUntil: day,
      }),
    )
  },
  round: (stage, { by, answer, scan = 'right' }) =>
    recordRound(
      stage.viewer(by),
      stage.permitId,
      roundSchema.parse({
        key: uuidv7(),
        posts: POSTS.map((post, i) => ({ post, answer, ...SCANS[scan][i] })),
      }),
    ),
  monitored: async (stage, { by }) =>
    recordMonitoring(stage.viewer(by), dutySchema.parse({ ...(await stage.form()), ...found })),
  finalLook: async (stage, { by }) =>
    recordFinalLook(stage.viewer(by), dutySchema.parse({ ...(await stage.form()), ...found })),
  statement: async (stage, { by }) =>
    recordStatement(
      stage.viewer(by),
      statementSchema.parse({ ...(await stage.form()), statement: 'No fire is possible' }),
    ),
  survey: async (stage, { by }) =>
    recordSurvey(stage.viewer(by), dutySchema.parse({ ...(await stage.form()), ...found })),
  leave: async (stage, { by }) =>
    leaveWatch(
      stage.viewer('fireWatch'),
      leaveWatchSchema.parse({
        ...(await stage.form()),
        personId: stage.people[by].id,
        why: 'Called to the gate',
      }),
    ),
  takeOver: async (stage, act) =>
    handOver(
      stage.viewer('foreman'),
      handOverSchema.parse({ ...(await signing(stage, act)), role: act.part }),
    ),
  log: async (stage, { by, agoMin, forMin }) => {
    const [from, to] = [await clockAt(stage, -agoMin), await clockAt(stage, forMin - agoMin)]
    return logWork(
      stage.viewer('foreman'),
      logWorkSchema.parse({
        key: uuidv7(),
        permitId: stage.permitId,
        pieces: '1',
        day: from.day,
        from: from.clock,
        to: to.clock,
        operatorId: stage.people[by].id,
      }),
    )
  },
}

/** Does it as the app does. */
export const perform = (stage: Stage, act: Act): Promise<unknown> =>
  (DOES[act.name] as (stage: Stage, act: Act) => Promise<unknown>)(stage, act)
