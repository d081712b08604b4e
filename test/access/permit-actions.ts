import { createHash, randomUUID } from 'node:crypto'
import { localClock, localDay } from '@/lib/format/local-time'
import { buildPerson } from '../../seed/builders/people'
import { databaseNow } from '../../seed/play'
import { pngOf } from '../setup/picture-bytes'
import { drawingOf, pallets } from '../unit/permit/drawn'
import { type ActionRow, onPermit, PIN, permitId, permitPath } from './row'
import { IMPAIRMENT } from './stages'
import type { Scene } from './world'

const signedBy = (who: 'pai' | 'fireWatch') => async (scene: Scene) => ({
  ...(await onPermit(scene)),
  ...PIN,
  personId: scene.team[who].id,
})

/** A minute ago by the site's clock, as the boxes hold it. */
async function siteMinute({ owner, site }: Scene) {
  const at = new Date((await databaseNow(owner)) - 60_000)
  return { day: localDay(at, site.zone), clock: localClock(at, site.zone) }
}

/** A gas instrument on record at the scene's site. */
async function instrumentOf({ owner, site, team }: Scene): Promise<string> {
  const id = randomUUID()
  await owner.query(
    "INSERT INTO gas_instruments (id, site_id, name, model, added_by) VALUES ($1, $2, $3, 'Four-gas', $4)",
    [id, site.id, `GX-${id}`, team.foreman.id],
  )
  return id
}

/** A photo of the posted sheet, of one white pixel. */
async function sheetPhoto({ owner, site, team }: Scene, permit: string): Promise<string> {
  const id = randomUUID()
  const bytes = pngOf(1, 1)
  const hash = createHash('sha256').update(bytes).digest('hex')
  await owner.query(`BEGIN;
    INSERT INTO pictures (id, site_id, permit_id, purpose, mime, width_px, height_px, byte_count, sha256, person_id, role_then)
    VALUES ('${id}', '${site.id}', '${permit}', 'paper', 'image/png', 1, 1, ${bytes.length}, '${hash}', '${team.foreman.id}', 'foreman');
    INSERT INTO picture_bytes (picture_id, bytes) VALUES ('${id}', '\\x${bytes.toString('hex')}'); COMMIT`)
  return id
}

export const PERMIT_ACTIONS = {
  preparePermitAction: {
    needs: 'permit:prepare',
    path: (scene) => `/permits/new?job=${scene.job.id}`,
    input: (scene) => ({
      jobId: scene.job.id,
      areaId: scene.site.area.id,
      cutListId: scene.job.cutListId,
      outfitId: scene.outfit.id,
      process: 'oxyfuel_cutting',
      coldAnswer: 'neither',
      coldWhy: 'No saw fits',
      what: 'Stubs',
      whereWords: 'Grid C',
      inside: 'Solid',
      behind: 'Air',
      plannedDay: scene.today,
      plannedFrom: '07:00',
      plannedUntil: '23:00',
      operatorId: scene.team.operator.id,
      fireWatchId: scene.team.fireWatch.id,
    }),
  },
  answerClearanceAction: {
    needs: 'permit:clear',
    stage: 'prepared',
    path: permitPath('/clearance'),
    input: (scene) => ({ permitId: permitId(scene), item: 'floor', choice: 'swept' }),
  },
  keepDrawingAction: {
    needs: 'permit:clear',
    stage: 'prepared',
    path: permitPath('/drawing'),
    input: (scene) => ({
      permitId: permitId(scene),
      revision: '0',
      drawing: JSON.stringify(drawingOf([pallets(20)])),
    }),
  },
  clearPermitAction: {
    needs: 'permit:clear',
    stage: 'answered',
    path: permitPath('/clearance'),
    input: onPermit,
  },
  reopenClearanceAction: {
    needs: 'permit:clear',
    stage: 'cleared',
    path: permitPath('/clearance'),
    input: onPermit,
  },
  addInstrumentAction: {
    needs: 'outfit:inspect',
    path: (scene) => `/instruments?site=${scene.site.id}`,
    input: (scene) => ({ siteId: scene.site.id, name: `GX-${randomUUID()}`, model: 'Four-gas' }),
  },
  checkInstrumentAction: {
    needs: 'outfit:inspect',
    path: (scene) => `/instruments?site=${scene.site.id}`,
    input: async (scene) => ({
      instrumentId: await instrumentOf(scene),
      kind: 'bump',
      onDay: scene.today,
      validUntil: '',
      passed: 'yes',
      note: '',
    }),
  },
  recordGasTestAction: {
    needs: 'permit:clear',
    stage: 'cleared',
    path: permitPath('/gas-test'),
    input: async (scene) => ({
      ...(await onPermit(scene)),
      oxygenPct: '20.9',
      lelPct: '0',
      coPpm: '0',
      instrument: 'GM-2',
      bumpTestedOn: scene.today,
      calibratedUntil: scene.today,
    }),
  },
  signPermitAction: {
    needs: 'permit:sign',
    stage: 'cleared',
    path: permitPath('/sign'),
    input: async (scene) => ({
      ...(await onPermit(scene)),
      ...PIN,
      act: 'agree',
      personId: scene.team.operator.id,
    }),
  },
  issuePermitAction: {
    needs: 'permit:sign',
    stage: 'signed',
    path: permitPath('/sign'),
    input: async (scene) => ({
      ...(await onPermit(scene)),
      ...PIN,
      personId: scene.team.pai.id,
      arrivedAt: scene.at(-10).clock,
      validUntilDay: scene.at(240).day,
      validUntil: scene.at(240).clock,
    }),
  },
  logWorkAction: {
    needs: 'permit:log',
    stage: 'worked',
    path: permitPath('/log'),
    input: (scene) => ({
      permitId: permitId(scene),
      cutId: scene.job.cuts[0]?.id ?? '',
      pieces: '2',
      day: scene.today,
      from: scene.at(-4).clock,
      to: scene.at(-1).clock,
      operatorId: scene.team.operator.id,
      note: '',
    }),
  },
  handOverAction: {
    needs: 'permit:sign',
    stage: 'open',
    path: permitPath('/hand-over'),
    input: async (scene) => {
      const grants = [{ siteId: scene.site.id, role: 'fire_watch' as const }]
      const relief = await buildPerson(scene.owner, { grants })
      return { ...(await onPermit(scene)), ...PIN, role: 'fire_watch', personId: relief.id }
    },
  },
  withdrawStopAction: {
    needs: 'permit:sign',
    stage: 'pressed',
    path: permitPath(''),
    input: (scene) => ({
      permitId: permitId(scene),
      ...PIN,
      personId: scene.team.operator.id,
    }),
  },
  resumePermitAction: {
    needs: 'permit:resume',
    stage: 'heldAndLooked',
    path: permitPath('/resume'),
    input: signedBy('pai'),
  },
  reopenPermitAction: {
    needs: 'permit:resume',
    stage: 'watchAndLooked',
    path: permitPath('/watch'),
    input: signedBy('pai'),
  },
  holdPermitAction: {
    needs: 'permit:hold',
    stage: 'open',
    path: permitPath('/hold'),
    input: async (scene) => ({
      ...(await onPermit(scene)),
      torchOut: 'yes',
      valvesShut: 'yes',
      reason: 'Lift',
    }),
  },
  endWorkAction: {
    needs: 'permit:end-work',
    stage: 'open',
    path: permitPath('/end'),
    input: async (scene) => ({ ...(await onPermit(scene)), torchOut: 'yes', valvesShut: 'yes' }),
  },
  lookAgainAction: {
    needs: 'permit:clear',
    stage: 'held',
    path: permitPath('/resume'),
    input: async (scene) => ({
      ...(await onPermit(scene)),
      sameAsCleared: 'yes',
      what: 'All of it',
    }),
  },
  namePeopleAction: {
    needs: 'permit:prepare',
    stage: 'cleared',
    path: permitPath('/people'),
    input: async (scene) => {
      const grants = [{ siteId: scene.site.id, role: 'fire_watch' as const }]
      const other = await buildPerson(scene.owner, { grants })
      return {
        ...(await onPermit(scene)),
        operatorId: scene.team.operator.id,
        fireWatchId: other.id,
        why: 'Called away',
      }
    },
  },
  signOnAction: {
    needs: 'permit:sign',
    stage: 'open',
    path: permitPath('/briefing'),
    input: (scene) => ({
      permitId: permitId(scene),
      ...PIN,
      personId: scene.team.operator.id,
    }),
  },
  signVisitorAction: {
    needs: 'permit:sign',
    stage: 'open',
    path: permitPath('/briefing'),
    input: (scene) => ({
      permitId: permitId(scene),
      name: 'Ann Visitor',
      firm: 'Other Firm',
      briefed: 'yes',
    }),
  },
  typePaperAction: {
    needs: 'permit:paper',
    stage: 'worked',
    path: permitPath('/paper'),
    input: async (scene) => ({
      permitId: permitId(scene),
      pictureId: await sheetPhoto(scene, permitId(scene)),
      kind: 'round',
      ...(await siteMinute(scene)),
      writtenBy: 'B. L.',
      words: 'All clear',
    }),
  },
  reportWeatherAction: {
    needs: 'permit:hold',
    stage: 'open',
    path: permitPath('/weather'),
    input: (scene) => ({ permitId: permitId(scene), kind: 'wind', wind: '4', words: 'Vane' }),
  },
  withdrawPermitAction: {
    needs: 'permit:withdraw',
    stage: 'prepared',
    path: permitPath('/withdraw'),
    input: async (scene) => ({ ...(await onPermit(scene)), reason: 'Not needed' }),
  },
  leaveWatchAction: {
    needs: 'permit:watch',
    stage: 'watch',
    path: permitPath('/watch'),
    input: async (scene) => ({
      ...(await onPermit(scene)),
      personId: scene.team.fireWatch.id,
      why: 'Taken ill',
    }),
  },
  recordMonitoringAction: {
    needs: 'permit:round',
    stage: 'watched',
    path: permitPath('/close'),
    input: async (scene) => ({ ...(await onPermit(scene)), found: 'Nothing warm' }),
  },
  recordFinalLookAction: {
    needs: 'permit:round',
    stage: 'watched',
    path: permitPath('/close'),
    input: async (scene) => ({ ...(await onPermit(scene)), found: 'Nothing warm' }),
  },
  recordSurveyAction: {
    needs: 'permit:close',
    stage: 'watchToSurvey',
    path: permitPath('/close'),
    input: async (scene) => ({ ...(await onPermit(scene)), found: 'Nothing warm, nothing hidden' }),
  },
  recordStatementAction: {
    needs: 'permit:close',
    stage: 'watched',
    path: permitPath('/close'),
    input: async (scene) => ({ ...(await onPermit(scene)), statement: 'Cold all over' }),
  },
  restoreImpairmentAction: {
    needs: 'permit:close',
    stage: 'impaired',
    path: permitPath('/close'),
    input: async (scene) => ({ ...(await onPermit(scene)), impairmentId: IMPAIRMENT.id }),
  },
  signOffWatchAction: {
    needs: 'permit:close',
    stage: 'finished',
    path: permitPath('/close'),
    input: signedBy('fireWatch'),
  },
  closePermitAction: {
    needs: 'permit:close',
    stage: 'signedOff',
    path: permitPath('/close'),
    input: signedBy('pai'),
  },
  recordWorkOutsideAction: {
    needs: 'work:outside',
    path: (scene) => `/outside?site=${scene.site.id}`,
    input: (scene) => ({
      areaId: scene.site.area.id,
      permitId: '',
      operatorId: scene.team.operator.id,
      day: scene.today,
      from: '00:01',
      to: '00:02',
      what: 'One bolt',
      why: 'Thought it was open',
    }),
  },
} as const satisfies Record<string, ActionRow>
