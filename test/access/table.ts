import type { Action } from '../../lib/access/access'
import { BUILT_PIN } from '../../seed/builders/people'
import type { PermitStage, Scene } from './world'

export type Fields = Readonly<Record<string, string | readonly string[]>>

/**
 * One server action: what it asks for, and an input that succeeds for someone who may. `own`: an
 * act on oneself, that every signed-in person may do and nobody for another.
 */
export interface ActionRow {
  needs: Action | 'own'
  stage?: PermitStage
  /** The page whose form it is. */
  path: (scene: Scene) => string
  input: (scene: Scene) => Promise<Fields> | Fields
}

const PIN = { pin: BUILT_PIN }
const jobPath = (scene: Scene) => `/jobs/${scene.job.id}`
const permitId = (scene: Scene) => scene.permit?.permit.id ?? ''
const onPermit = async (scene: Scene) => ({
  permitId: permitId(scene),
  version: String(await scene.read('SELECT version FROM permits WHERE id = $1', [permitId(scene)])),
})
const permitPath = (tail: string) => (scene: Scene) => `/permits/${permitId(scene)}${tail}`
const cylinderPath = (scene: Scene) => `/cylinders/${scene.spare.id}`
const site = (scene: Scene) => ({ siteId: scene.site.id })

const JOB = { plannedStart: '2026-11-25', plannedEnd: '2026-11-30', chancePercent: '100' }
const CUT = {
  shape: 'plate',
  thickness: '1',
  thicknessUnit: 'in',
  length: '4',
  lengthUnit: 'ft',
  count: '2',
  material: 'carbon_steel',
  coating: 'none',
  position: 'flat',
}

const JOBS = {
  createJobAction: {
    needs: 'job:write',
    path: () => '/jobs/new',
    input: (scene) => ({
      ...site(scene),
      ...JOB,
      number: `A${Date.now().toString(36).slice(-8)}`,
      title: 'Beams',
      crewId: '',
      fuel: 'acetylene',
      process: 'hand',
    }),
  },
  saveCutAction: {
    needs: 'job:write',
    path: (scene) => `${jobPath(scene)}/cut`,
    input: (scene) => ({ ...CUT, cutListId: scene.job.cutListId }),
  },
  removeCutAction: {
    needs: 'job:write',
    path: (scene) => `${jobPath(scene)}/cut`,
    input: (scene) => ({ cutId: scene.job.cuts[1]?.id ?? '', version: '0' }),
  },
  updateCutListAction: {
    needs: 'job:write',
    path: (scene) => `${jobPath(scene)}/edit`,
    input: (scene) => ({
      cutListId: scene.job.cutListId,
      version: '0',
      fuel: 'propane',
      process: 'machine',
    }),
  },
  updateJobAction: {
    needs: 'job:write',
    path: (scene) => `${jobPath(scene)}/edit`,
    input: (scene) => ({
      jobId: scene.job.id,
      version: '0',
      ...JOB,
      title: 'Columns again',
      crewId: '',
      state: 'running',
    }),
  },
  keepEstimateAction: {
    needs: 'estimate:keep',
    path: jobPath,
    input: (scene) => ({ cutListId: scene.job.cutListId }),
  },
} as const satisfies Record<string, ActionRow>

const GAS = {
  receiveDeliveryAction: {
    needs: 'cylinder:receive',
    path: () => '/deliveries/new',
    input: async (scene) => ({
      ...site(scene),
      orderId: '',
      supplierId: await scene.read('SELECT id FROM suppliers LIMIT 1'),
      note: '',
      serial: [`OX-A${Date.now().toString(36).toUpperCase()}`],
      sizeId: ['oxygen-244'],
      filledOn: [scene.today],
      dueMonth: ['2031-01'],
      requalifiedOn: [''],
    }),
  },
  readCylinderAction: {
    needs: 'cylinder:read-gauge',
    path: cylinderPath,
    input: (scene) => ({
      cylinderId: scene.spare.id,
      gauge: '2000',
      gaugeUnit: 'psi',
      temperature: '70',
      temperatureUnit: 'degF',
    }),
  },
  markEmptyAction: {
    needs: 'cylinder:read-gauge',
    path: cylinderPath,
    input: (scene) => ({ cylinderId: scene.spare.id }),
  },
  quarantineAction: {
    needs: 'cylinder:quarantine',
    path: cylinderPath,
    input: (scene) => ({ cylinderId: scene.spare.id, reason: 'Valve hisses' }),
  },
  returnAction: {
    needs: 'cylinder:move',
    path: cylinderPath,
    input: (scene) => ({ cylinderId: scene.spare.id }),
  },
  swapCylinderAction: {
    needs: 'cylinder:swap',
    stage: 'open',
    path: permitPath('/swap'),
    input: (scene) => ({
      permitId: permitId(scene),
      outfitId: scene.outfit.id,
      side: 'oxygen',
      place: '1',
      offCylinderId: scene.outfit.oxygen.id,
      gauge: '160',
      gaugeUnit: 'psi',
      temperature: '70',
      temperatureUnit: 'degF',
      onSerial: scene.spare.serial,
      shutAndBled: 'yes',
      leakTested: 'yes',
    }),
  },
} as const satisfies Record<string, ActionRow>

const PERMIT = {
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
  reopenClearanceAction: {
    needs: 'permit:clear',
    stage: 'cleared',
    path: permitPath('/clearance'),
    input: onPermit,
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
    input: async (scene) => ({ ...(await onPermit(scene)), personId: scene.team.fireWatch.id }),
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

const OFFICE = {
  confirmOrderAction: {
    needs: 'order:confirm',
    path: (scene) => `/orders?site=${scene.site.id}`,
    input: async (scene) => ({
      ...site(scene),
      supplierId: await scene.read(
        'SELECT s.id FROM suppliers s JOIN prices p ON p.supplier_id = s.id WHERE p.size_id = $1 LIMIT 1',
        ['oxygen-244'],
      ),
      dueOn: '2099-01-05',
      sizeId: ['oxygen-244'],
      quantity: ['2'],
    }),
  },
  grantRoleAction: {
    needs: 'people:write',
    path: () => '/people',
    input: (scene) => ({ ...site(scene), personId: scene.team.operator.id, role: 'fire_watch' }),
  },
  revokeGrantAction: {
    needs: 'people:write',
    path: () => '/people',
    input: async (scene) => ({
      grantId: await scene.read('SELECT id FROM grants WHERE person_id = $1 AND site_id = $2', [
        scene.team.operator.id,
        scene.site.id,
      ]),
    }),
  },
  setDisabledAction: {
    needs: 'people:write',
    path: () => '/people',
    input: (scene) => ({ personId: scene.team.operator.id, disabled: 'yes' }),
  },
  addQualificationAction: {
    needs: 'people:write',
    path: () => '/people',
    input: (scene) => ({
      personId: scene.team.operator.id,
      kind: 'pai',
      validFrom: scene.today,
      validUntil: '2099-01-01',
      evidence: 'Course',
    }),
  },
  savePrefsAction: {
    needs: 'own',
    path: () => '/me',
    input: () => ({ units: 'si', clock: '12', theme: 'dark' }),
  },
  changePinAction: {
    needs: 'own',
    path: () => '/me',
    input: () => ({ ...PIN, newPin: '907214', newPinAgain: '907214' }),
  },
} as const satisfies Record<string, ActionRow>

export const ACTION_TABLE: Readonly<Record<string, ActionRow>> = {
  ...JOBS,
  ...GAS,
  ...PERMIT,
  ...OFFICE,
}

/**
 * Actions whose valid input needs a state that takes a whole story to reach. Here they are walked
 * only without a session; test/data and test/e2e/story.spec.ts hold their roles and sites.
 */
export const TOLD_ELSEWHERE: readonly string[] = [
  'cancelOrderAction',
  'clearPermitAction',
  'closePermitAction',
  'handOverAction',
  'issuePermitAction',
  'logWorkAction',
  'recordFinalLookAction',
  'recordMonitoringAction',
  'recordStatementAction',
  'releaseAction',
  'reopenPermitAction',
  'restoreImpairmentAction',
  'resumePermitAction',
  'seeNoticeAction',
  'signOffWatchAction',
  'withdrawStopAction',
]
