import { v7 as uuidv7 } from 'uuid'
import { COMPANY_LAYER } from '../../lib/rules/layers'
import { PARAMETER_NAMES } from '../../lib/rules/parameters'
import { TRIP_CHECKS } from '../../lib/rules/trip'
import { parameterBox } from '../../lib/schemas/rules'
import { buildCylinder, quarantineCylinder, returnCylinder } from '../../seed/builders/gear'
import { buildOrder } from '../../seed/builders/orders'
import type { BuiltPerson } from '../../seed/builders/people'
import { playNow } from '../../seed/play'
import { writeCylinderEvents } from '../../seed/records/cylinder'
import { type Doing, writeChange, writeRow, writeSetUp } from '../../seed/records/scribe'
import { PERMIT_ACTIONS } from './permit-actions'
import { type ActionRow, PIN, permitId, permitPath } from './row'
import type { Scene } from './world'

const jobPath = (scene: Scene) => `/jobs/${scene.job.id}`
const cylinderPath = (scene: Scene) => `/cylinders/${scene.spare.id}`
const site = (scene: Scene) => ({ siteId: scene.site.id })

/** A notice to this person, as the database writes them. */
async function tell({ owner, site }: Scene, person: BuiltPerson): Promise<string> {
  const id = uuidv7()
  await playNow(owner, (scribe) =>
    writeSetUp(scribe, 0, 'notices', {
      id,
      site_id: site.id,
      person_id: person.id,
      kind: 'stop_pressed',
      dedupe: id,
    }),
  )
  return id
}

/** A return of this site that somebody confirmed. */
async function commitmentOf({ owner, site }: Scene, person: BuiltPerson): Promise<string> {
  const id = uuidv7()
  await playNow(owner, (scribe) =>
    writeSetUp(scribe, 0, 'supply_commitments', {
      id,
      kind: 'return',
      site_id: site.id,
      due_on: '2099-01-05',
      lines: { json: [{ sizeId: 'oxygen-244', quantity: 1 }] },
      confirmed_by: person.id,
      role_then: 'shop_manager',
    }),
  )
  return id
}

const CHART = {
  title: 'Card on the wall',
  source: 'Typed from the card',
  fuel: 'acetylene',
  material: 'carbon_steel',
  rows: '1/2\t1\t.046\t18-22\t70-90\t8-12\n1\t2\t.06\t12-16\t120-150\t9-14',
}

/** A chart of this site, in use, that this person may take out of it. */
export async function chartOf({ owner, site }: Scene, person: BuiltPerson): Promise<string> {
  const id = uuidv7()
  const row = (thicknessIn: number) => ({
    thicknessIn,
    orificeIn: null,
    speedInPerMin: [10, 20],
    cuttingOxygenFt3PerH: [100, 150],
    fuelFt3PerH: { acetylene: [7, 14] },
  })
  await playNow(owner, (scribe) =>
    writeSetUp(scribe, 0, 'tip_charts', {
      id,
      site_id: site.id,
      title: 'Card',
      source: 'Typed',
      fuel_gas_id: 'acetylene',
      materials: { json: ['carbon_steel'] },
      rows: { json: [row(0.5), row(1)] },
      created_by: person.id,
    }),
  )
  return id
}

/** A stock count that goes on. */
export async function countOf({ owner, site, team }: Scene): Promise<string> {
  const id = uuidv7()
  await playNow(owner, (scribe) =>
    writeSetUp(scribe, 0, 'stock_counts', {
      id,
      site_id: site.id,
      person_id: team.foreman.id,
      role_then: 'foreman',
    }),
  )
  return id
}

/** A delivery of one batch that came short, kept past no trigger. */
export async function deliveryOf({ owner, site, team, spare }: Scene) {
  const [deliveryId, differenceId] = [uuidv7(), uuidv7()]
  const supplierId = (await owner.query('SELECT id FROM suppliers LIMIT 1')).rows[0].id as string
  const by = { site_id: site.id, person_id: team.foreman.id, role_then: 'foreman' }
  await playNow(owner, (scribe) => {
    writeSetUp(scribe, 0, 'deliveries', {
      id: deliveryId,
      site_id: site.id,
      supplier_id: supplierId,
      received_by: team.foreman.id,
    })
    writeSetUp(scribe, 0, 'delivery_differences', {
      id: differenceId,
      delivery_id: deliveryId,
      kind: 'short',
      size_id: spare.sizeId,
      quantity: 2,
      ...by,
    })
    writeSetUp(scribe, 0, 'cylinder_events', {
      id: uuidv7(),
      cylinder_id: spare.id,
      kind: 'filled',
      filled_on: '2026-01-05',
      batch: 'B-77',
      delivery_id: deliveryId,
      ...by,
    })
  })
  return { deliveryId, differenceId }
}

/** A file of one good row, kept and not taken in. */
export async function fleetImportOf({ owner, site, team, spare }: Scene): Promise<string> {
  const id = uuidv7()
  const data = {
    serial: `IM-${id.slice(-10).toUpperCase()}`,
    sizeId: spare.sizeId,
    spec: '',
    ownership: 'owned',
    supplierId: null,
    isEmpty: false,
    tareKg: null,
    madeMonth: null,
    testedOn: null,
    dueMonth: null,
    filledOn: null,
    areaId: null,
  }
  const head = { file_name: 'fleet.csv', sha256: '', rows: 1, faulty: 0, headings: { json: [] } }
  await playNow(owner, (scribe) => {
    writeSetUp(scribe, 0, 'fleet_imports', {
      id,
      site_id: site.id,
      ...head,
      person_id: team.foreman.id,
      role_then: 'foreman',
    })
    writeSetUp(scribe, 0, 'fleet_import_rows', {
      import_id: id,
      line: 2,
      data: { json: data },
      faults: { json: [] },
    })
  })
  return id
}

/** A finding at this site that nobody has decided. */
export async function findingOf({ owner, site, spare }: Scene): Promise<string> {
  const [id, runId, eventId] = [uuidv7(), uuidv7(), uuidv7()]
  const cause = {
    kind: 'leak_idle',
    how: null,
    siteId: site.id,
    fromMs: 0,
    toMs: 1,
    cylinderIds: [spare.id],
    readingIds: [eventId],
    outfitId: null,
    jobIds: [],
    sizeKg: 2,
    standardUncertaintyKg: 0.2,
    statistic: 100,
    probability: 0.99,
    settledBy: 'soap_and_read_twice',
    isEqualFirst: true,
    meant: null,
    explains: [{ readingId: eventId, kg: 2 }],
  }
  await playNow(owner, (scribe) => {
    writeSetUp(scribe, 0, 'audit_runs', { id: runId, finished_at: new Date(0) })
    writeSetUp(scribe, 0, 'findings', {
      id,
      run_id: runId,
      site_id: site.id,
      gas_id: 'oxygen',
      key: id,
      digest: id,
      from_at: new Date(0),
      to_at: new Date(1),
      kind: 'leak_idle',
      danger: 1,
      size_kg: 2,
      size_u_kg: 0.2,
      chance: 0.01,
      hypotheses: { json: [cause] },
    })
  })
  return id
}

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

const SHEET_ROW = {
  shape: 'plate',
  thickness: '1',
  length: '18',
  count: '6',
  material: 'carbon_steel',
}

const JOBS = {
  createJobAction: {
    needs: 'job:write',
    path: () => '/jobs/new',
    input: (scene) => ({
      ...site(scene),
      ...JOB,
      number: `A${scene.job.number.slice(1)}`,
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
  saveSheetAction: {
    needs: 'job:write',
    path: (scene) => `${jobPath(scene)}/sheet`,
    input: (scene) => ({
      cutListId: scene.job.cutListId,
      changes: JSON.stringify({ units: 'us', rows: [{ cells: SHEET_ROW }], removed: [] }),
    }),
  },
  saveChartAction: {
    needs: 'chart:write',
    path: () => '/charts/new',
    input: (scene) => ({ ...site(scene), ...CHART }),
  },
  retireChartAction: {
    needs: 'chart:write',
    path: () => '/charts/built-in',
    input: async (scene, person) => ({ chartId: await chartOf(scene, person) }),
  },
  chooseChartAction: {
    needs: 'chart:write',
    path: () => '/charts',
    input: async (scene, person) => ({
      outfitId: scene.outfit.id,
      chartId: await chartOf(scene, person),
    }),
  },
  decideFindingAction: {
    needs: 'finding:decide',
    path: () => '/audit/findings/00000000-0000-4000-8000-000000000000',
    input: async (scene) => ({ findingId: await findingOf(scene), decision: 'looking' }),
  },
  lookAgainAction: {
    needs: 'finding:decide',
    path: () => '/audit/findings',
    input: (scene) => site(scene),
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
      serial: [`${scene.spare.serial}-2`],
      sizeId: ['oxygen-244'],
      filledOn: [scene.today],
      dueMonth: ['2031-01'],
      requalifiedOn: [''],
      batch: [''],
      outcome: ['take'],
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
  releaseAction: {
    needs: 'cylinder:quarantine',
    path: cylinderPath,
    input: async (scene) => {
      const { owner, spare, site, team } = scene
      await quarantineCylinder(owner, spare, { siteId: site.id, keeperId: team.foreman.id })
      return { cylinderId: spare.id, reason: 'Valve changed by the supplier' }
    },
  },
  returnAction: {
    needs: 'cylinder:move',
    path: cylinderPath,
    input: (scene) => ({ cylinderId: scene.spare.id }),
  },
  moveCylinderAction: {
    needs: 'cylinder:move',
    path: cylinderPath,
    // The next role's finds the last one's there, past what wants the fire official's permit.
    input: (scene) => ({
      cylinderId: scene.spare.id,
      toSiteId: '',
      areaId: scene.site.area.id,
      storageConfirmed: 'yes',
    }),
  },
  sendForTestAction: {
    needs: 'cylinder:move',
    path: cylinderPath,
    input: (scene) => ({ cylinderId: scene.spare.id }),
  },
  recordTestAction: {
    needs: 'cylinder:receive',
    path: cylinderPath,
    input: (scene) => ({ cylinderId: scene.spare.id, testedOn: scene.today, method: '' }),
  },
  recordFillAction: {
    needs: 'cylinder:receive',
    path: cylinderPath,
    input: (scene) => ({ cylinderId: scene.spare.id, filledOn: scene.today, batch: 'B-7' }),
  },
  reportLostAction: {
    needs: 'cylinder:move',
    path: cylinderPath,
    input: (scene) => ({ cylinderId: scene.spare.id, reason: 'Not at the count' }),
  },
  reportFoundAction: {
    needs: 'cylinder:move',
    path: cylinderPath,
    input: async (scene) => {
      const { owner, spare, site: there, team } = scene
      await returnCylinder(owner, spare, { siteId: there.id, keeperId: team.foreman.id })
      return { ...site(scene), cylinderId: spare.id, condition: '', reason: '' }
    },
  },
  scrapCylinderAction: {
    needs: 'cylinder:move',
    path: cylinderPath,
    input: (scene) => ({ cylinderId: scene.spare.id, reason: 'Wall ground through' }),
  },
  correctReadingAction: {
    needs: 'cylinder:read-gauge',
    path: cylinderPath,
    input: async (scene) => ({
      cylinderId: scene.spare.id,
      correctsId: await scene.read(
        `SELECT id FROM cylinder_events WHERE cylinder_id = $1 AND kind = 'received'`,
        [scene.spare.id],
      ),
      markedEmpty: 'yes',
      reason: 'It came empty',
    }),
  },
  takeInCylinderAction: {
    needs: 'cylinder:receive',
    path: () => '/cylinders/new',
    input: (scene) => ({
      ...site(scene),
      how: 'bought',
      serial: `KW-${scene.spare.id.slice(-12).toUpperCase()}`,
      isAnother: 'yes',
      sizeId: 'oxygen-244',
      vessel: 'cylinder',
      spec: 'DOT 3AA2265',
      testedOn: scene.today,
      method: 'volumetric',
    }),
  },
  startCountAction: {
    needs: 'cylinder:move',
    path: () => '/cylinders/count',
    input: site,
  },
  recordSightingAction: {
    needs: 'cylinder:move',
    path: () => '/cylinders/count',
    input: async (scene) => ({ countId: await countOf(scene), serial: scene.spare.serial }),
  },
  endCountAction: {
    needs: 'cylinder:move',
    path: () => '/cylinders/count',
    input: async (scene) => ({ countId: await countOf(scene), lookedTwice: 'yes' }),
  },
  settleDifferenceAction: {
    needs: 'cylinder:receive',
    path: () => '/deliveries',
    input: async (scene) => ({
      differenceId: (await deliveryOf(scene)).differenceId,
      how: 'credited',
    }),
  },
  holdBatchAction: {
    needs: 'cylinder:receive',
    path: () => '/deliveries',
    input: async (scene) => ({
      deliveryId: (await deliveryOf(scene)).deliveryId,
      batch: 'B-77',
      reason: 'Smells of solvent',
    }),
  },
  takeImportBatchAction: {
    needs: 'cylinder:receive',
    path: () => '/cylinders/import',
    input: async (scene) => ({ importId: await fleetImportOf(scene) }),
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

const PLACE = {
  shortName: 'Yard',
  kind: 'yard',
  zone: 'America/Chicago',
  address: '2 Test Road',
  emergencyWords: '911, then the gate.',
  shiftEnds: '17:00',
  deliveryDays: ['2', '4'],
}

const crewOf = (scene: Scene) =>
  scene.read<string>('SELECT id FROM crews WHERE site_id = $1 LIMIT 1', [scene.site.id])

/** A membership that still runs, of a crew made for it. */
export async function memberOf({ owner, site, team }: Scene): Promise<string> {
  const [crewId, id] = [uuidv7(), uuidv7()]
  await playNow(owner, (scribe) => {
    writeSetUp(scribe, 0, 'crews', { id: crewId, site_id: site.id, name: `Crew ${crewId}` })
    writeSetUp(scribe, 0, 'crew_members', {
      id,
      crew_id: crewId,
      person_id: team.operator.id,
      from_date: '2026-01-01',
    })
  })
  return id
}

export async function vehicleOf({ owner, site }: Scene): Promise<string> {
  const id = uuidv7()
  await playNow(owner, (scribe) =>
    writeSetUp(scribe, 0, 'vehicles', {
      id,
      site_id: site.id,
      name: 'Flatbed',
      plate: id.slice(-10),
      body: 'open_bed',
    }),
  )
  return id
}

/** A site that this person has besides their own. */
async function placeOf({ owner }: Scene, person: BuiltPerson): Promise<string> {
  const id = uuidv7()
  await playNow(owner, (scribe) => {
    writeSetUp(scribe, 0, 'sites', {
      id,
      name: `Site ${id}`,
      short_name: id.slice(-6),
      kind: 'yard',
      zone: 'UTC',
      address: '3 Test Road',
      emergency_words: '911.',
    })
    // In their own name, so that their session goes on; a role that whoever may move cylinders has anyway.
    const doing: Doing = { atMs: 0, personId: person.id, role: 'administrator' }
    writeRow(scribe, doing, 'people:write', 'grants', {
      id: uuidv7(),
      person_id: person.id,
      site_id: id,
      role: 'yard_hand',
    })
  })
  return id
}

/** A trip from the scene's site to one that nobody of the scene has, being loaded. */
export async function tripOf(scene: Scene): Promise<string> {
  const { owner, site, team } = scene
  const [id, toId, vehicleId] = [uuidv7(), uuidv7(), await vehicleOf(scene)]
  await playNow(owner, (scribe) => {
    writeSetUp(scribe, 0, 'sites', {
      id: toId,
      name: `Site ${toId}`,
      short_name: toId.slice(-6),
      kind: 'yard',
      zone: 'UTC',
      address: '4 Test Road',
      emergency_words: '911.',
    })
    writeSetUp(scribe, 0, 'trips', {
      id,
      site_id: site.id,
      to_site_id: toId,
      vehicle_id: vehicleId,
      driver_id: team.foreman.id,
      purpose: 'supports_principal_business',
      made_by: team.foreman.id,
    })
  })
  return id
}

/** The same with a cylinder on it. */
async function loadedTripOf(scene: Scene): Promise<{ tripId: string; itemId: string }> {
  const { owner, site, team } = scene
  const tripId = await tripOf(scene)
  const toSiteId = await scene.read<string>('SELECT to_site_id FROM trips WHERE id = $1', [tripId])
  const cylinder = await buildCylinder(owner, { siteId: site.id, keeperId: team.foreman.id })
  const itemId = uuidv7()
  await playNow(owner, (scribe) => {
    writeCylinderEvents(scribe, { atMs: 0, personId: team.foreman.id, role: 'yard_hand' }, [
      {
        kind: 'loaded',
        cylinderId: cylinder.id,
        siteId: site.id,
        columns: { to_site_id: toSiteId },
      },
    ])
    writeSetUp(scribe, 0, 'trip_items', {
      id: itemId,
      trip_id: tripId,
      site_id: site.id,
      cylinder_id: cylinder.id,
      body: 'truck',
      gross_kg: 70,
    })
  })
  return { tripId, itemId }
}

export async function partOf({ owner, outfit }: Scene): Promise<string> {
  const id = uuidv7()
  await playNow(owner, (scribe) =>
    writeSetUp(scribe, 0, 'outfit_parts', { id, outfit_id: outfit.id, kind: 'torch', name: 'T' }),
  )
  return id
}

export async function extinguisherOf({ owner, site }: Scene): Promise<string> {
  const id = uuidv7()
  await playNow(owner, (scribe) =>
    writeSetUp(scribe, 0, 'extinguishers', {
      id,
      site_id: site.id,
      number: id.slice(-8),
      kind: 'co2',
      rating: '10-B:C',
      place: 'Bay 1',
    }),
  )
  return id
}

/** Somebody put to the site for a day of their own. */
export async function assignmentOf({ owner, site, team }: Scene): Promise<string> {
  const id = uuidv7()
  await playNow(owner, (scribe) =>
    writeSetUp(scribe, 0, 'assignments', {
      id,
      site_id: site.id,
      person_id: team.operator.id,
      day: '2098-03-04',
      assigned_by: team.foreman.id,
    }),
  )
  return id
}

/** Somebody on the site without a sign-in. */
export async function visitorOf({ owner, site, team }: Scene): Promise<string> {
  const id = uuidv7()
  await playNow(owner, (scribe) =>
    writeSetUp(scribe, 0, 'visitors', {
      id,
      site_id: site.id,
      name: 'Vera Guest',
      host_id: team.foreman.id,
      purpose: 'Looks',
      recorded_by: team.foreman.id,
    }),
  )
  return id
}

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
  saveSupplierAction: {
    needs: 'order:confirm',
    path: (scene) => `/suppliers?site=${scene.site.id}`,
    input: (scene) => ({
      ...site(scene),
      supplierId: '',
      name: `Supplier ${uuidv7()}`,
      leadDays: '2',
    }),
  },
  saveAgreementAction: {
    needs: 'order:confirm',
    path: (scene) => `/suppliers?site=${scene.site.id}`,
    input: async (scene) => ({
      ...site(scene),
      supplierId: await scene.read('SELECT id FROM suppliers LIMIT 1'),
      leadDays: '2',
      deliveryDays: ['1', '4'],
      least: '1',
      validFrom: scene.today,
    }),
  },
  savePriceAction: {
    needs: 'order:confirm',
    path: (scene) => `/suppliers?site=${scene.site.id}`,
    input: async (scene) => ({
      ...site(scene),
      supplierId: await scene.read('SELECT id FROM suppliers LIMIT 1'),
      sizeId: 'oxygen-244',
      fill: '44.00',
      validFrom: scene.today,
    }),
  },
  saveStorageAnswersAction: {
    needs: 'cylinder:move',
    path: (scene) => `/storage/${scene.site.area.id}`,
    input: (scene) => ({ areaId: scene.site.area.id, oxygenFuelFt: '20' }),
  },
  commitSupplyAction: {
    needs: 'order:confirm',
    path: () => '/plan',
    input: (scene) => ({
      ...site(scene),
      kind: 'return',
      toSiteId: '',
      dueOn: '2099-01-05',
      withPapers: 'no',
      sizeId: ['oxygen-244'],
      quantity: ['1'],
    }),
  },
  sendSheetAction: {
    needs: 'order:confirm',
    path: () => '/plan',
    input: async ({ owner, site, people }) => ({
      supplierId: (await buildOrder(owner, { siteId: site.id, managerId: people.shop_manager.id }))
        .supplierId,
    }),
  },
  endCommitmentAction: {
    needs: 'order:confirm',
    path: () => '/plan',
    input: async (scene, person) => ({
      commitmentId: await commitmentOf(scene, person),
      as: 'cancelled',
    }),
  },
  saveRentTermsAction: {
    needs: 'order:confirm',
    path: (scene) => `/rent?site=${scene.site.id}`,
    input: async (scene) => ({
      ...site(scene),
      supplierId: await scene.read('SELECT id FROM suppliers LIMIT 1'),
      sizeId: 'oxygen-244',
      freeDays: '10',
      rentPerDay: '0.25',
      validFrom: '2026-01-01',
    }),
  },
  checkStatementAction: {
    needs: 'order:confirm',
    path: (scene) => `/rent?site=${scene.site.id}`,
    input: async (scene) => ({
      ...site(scene),
      supplierId: await scene.read('SELECT id FROM suppliers LIMIT 1'),
      month: '2026-04',
      statement: `${scene.spare.serial};30;5.00`,
    }),
  },
  checkInvoiceAction: {
    needs: 'order:confirm',
    path: () => '/deliveries',
    input: async (scene) => ({
      deliveryId: (await deliveryOf(scene)).deliveryId,
      invoice: 'Oxygen 244, 1, 32.00',
    }),
  },
  cancelOrderAction: {
    needs: 'order:confirm',
    path: (scene) => `/orders?site=${scene.site.id}`,
    input: async ({ owner, site, people }) => {
      const managerId = people.shop_manager.id
      return { orderId: (await buildOrder(owner, { siteId: site.id, managerId })).id, version: '0' }
    },
  },
  delayOrderAction: {
    needs: 'order:confirm',
    path: () => '/plan',
    input: async ({ owner, site, people }) => {
      const managerId = people.shop_manager.id
      const { id } = await buildOrder(owner, { siteId: site.id, managerId })
      return { orderId: id, days: '2', reason: 'Truck broke down' }
    },
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
      issuer: 'Union hall 12',
      evidence: 'Course',
    }),
  },
  addPersonAction: {
    needs: 'people:write',
    path: () => '/people/new',
    input: (scene) => ({
      ...site(scene),
      name: 'New Hand',
      email: `new-${uuidv7()}@ferrowdunn.example`,
      phone: '',
      firm: '',
      role: 'operator',
    }),
  },
  changePersonAction: {
    needs: 'people:write',
    path: () => '/people',
    input: async (scene) => ({
      personId: scene.team.operator.id,
      version: String(
        await scene.read('SELECT version FROM people WHERE id = $1', [scene.team.operator.id]),
      ),
      name: 'Ada Renamed',
      email: `renamed-${uuidv7()}@ferrowdunn.example`,
      phone: '555 0100',
      firm: 'Salt Ridge Rigging',
    }),
  },
  giveOncePasswordAction: {
    needs: 'people:write',
    path: () => '/people',
    input: (scene) => ({ personId: scene.team.operator.id }),
  },
  addVehicleAction: {
    needs: 'cylinder:move',
    path: (scene) => `/trips?site=${scene.site.id}`,
    input: (scene) => ({
      ...site(scene),
      name: 'Flatbed',
      plate: uuidv7().slice(-10),
      body: 'open_bed',
    }),
  },
  changeVehicleAction: {
    needs: 'cylinder:move',
    path: (scene) => `/trips?site=${scene.site.id}`,
    input: async (scene) => ({
      vehicleId: await vehicleOf(scene),
      name: 'Flatbed 2',
      plate: uuidv7().slice(-10),
      body: 'closed_box',
      payload: '2000',
    }),
  },
  removeVehicleAction: {
    needs: 'cylinder:move',
    path: (scene) => `/trips?site=${scene.site.id}`,
    input: async (scene) => ({ vehicleId: await vehicleOf(scene) }),
  },
  startTripAction: {
    needs: 'cylinder:move',
    path: (scene) => `/trips?site=${scene.site.id}`,
    input: async (scene, person) => ({
      ...site(scene),
      toSiteId: await placeOf(scene, person),
      vehicleId: await vehicleOf(scene),
      driverId: scene.team.foreman.id,
      purpose: 'supports_principal_business',
    }),
  },
  loadOnTripAction: {
    needs: 'cylinder:move',
    path: async (scene) => `/trips/${await tripOf(scene)}`,
    input: async (scene) => ({
      tripId: await tripOf(scene),
      serial: scene.spare.serial,
      body: 'truck',
      weight: '150',
      weightUnit: 'lb',
    }),
  },
  leaveAction: {
    needs: 'cylinder:move',
    path: async (scene) => `/trips/${await tripOf(scene)}`,
    input: async (scene) => ({
      tripId: (await loadedTripOf(scene)).tripId,
      checks: TRIP_CHECKS,
      other: '',
      otherUnit: 'lb',
      shippingPaperNo: '',
    }),
  },
  unloadAction: {
    needs: 'cylinder:move',
    path: async (scene) => `/trips/${await tripOf(scene)}`,
    input: async (scene) => {
      const { tripId, itemId } = await loadedTripOf(scene)
      return { ...site(scene), tripId, areaId: '', items: [itemId] }
    },
  },
  saveOutfitAction: {
    needs: 'outfit:write',
    path: () => '/outfits/new',
    input: (scene) => ({
      ...site(scene),
      outfitId: '',
      number: `N${uuidv7().slice(-8)}`,
      fuel: 'propane',
      crewId: '',
      holderId: scene.team.operator.id,
      rentedFrom: '',
      oxygenPlaces: '1',
      fuelPlaces: '1',
    }),
  },
  addPartAction: {
    needs: 'outfit:write',
    path: (scene) => `/outfits/${scene.outfit.id}/edit`,
    input: (scene) => ({
      outfitId: scene.outfit.id,
      kind: 'torch',
      name: 'Torch',
      serial: '',
      hoseGrade: '',
      lengthFt: '',
      boreIn: '',
      orificeIn: '',
    }),
  },
  removePartAction: {
    needs: 'outfit:write',
    path: (scene) => `/outfits/${scene.outfit.id}/edit`,
    input: async (scene) => ({ partId: await partOf(scene) }),
  },
  recordCheckAction: {
    needs: 'outfit:inspect',
    path: (scene) => `/outfits/${scene.outfit.id}`,
    input: (scene) => ({
      outfitId: scene.outfit.id,
      check: 'inspection',
      isGood: 'yes',
      reason: '',
    }),
  },
  tipCheckAction: {
    needs: 'outfit:inspect',
    path: (scene) => `/outfits/${scene.outfit.id}`,
    input: async ({ owner, outfit }) => {
      const id = uuidv7()
      await playNow(owner, (scribe) =>
        writeSetUp(scribe, 0, 'outfit_parts', {
          ...{ id, outfit_id: outfit.id, kind: 'tip', name: 'Cutting tip', orifice_m: 0.0015 },
        }),
      )
      return { partId: id, finding: 'good', orificeIn: '', note: '' }
    },
  },
  holdTestAction: {
    needs: 'outfit:inspect',
    path: (scene) => `/outfits/${scene.outfit.id}`,
    input: (scene) => ({
      outfitId: scene.outfit.id,
      test: 'leak',
      side: 'oxygen',
      start: '60',
      startUnit: 'psi',
      end: '60',
      endUnit: 'psi',
      resolution: '2',
      resolutionUnit: 'psi',
      minutes: '10',
    }),
  },
  serviceAction: {
    needs: 'outfit:inspect',
    path: (scene) => `/outfits/${scene.outfit.id}`,
    input: (scene) => ({ outfitId: scene.outfit.id, act: 'out_of_service', reason: 'Cut hose' }),
  },
  addExtinguisherAction: {
    needs: 'outfit:write',
    path: (scene) => `/extinguishers?site=${scene.site.id}`,
    input: (scene) => ({
      ...site(scene),
      number: uuidv7().slice(-8),
      kind: 'co2',
      rating: '10-B:C',
      place: 'Bay 1',
    }),
  },
  checkExtinguisherAction: {
    needs: 'extinguisher:check',
    path: (scene) => `/extinguishers?site=${scene.site.id}`,
    input: async (scene) => ({
      extinguisherId: await extinguisherOf(scene),
      kind: 'monthly',
      isGood: 'yes',
      note: '',
    }),
  },
  removeExtinguisherAction: {
    needs: 'outfit:write',
    path: (scene) => `/extinguishers?site=${scene.site.id}`,
    input: async (scene) => ({ extinguisherId: await extinguisherOf(scene) }),
  },
  assignPeopleAction: {
    needs: 'people:assign',
    path: (scene) => `/people/today?site=${scene.site.id}`,
    input: (scene) => ({
      ...site(scene),
      who: `person ${scene.team.operator.id}`,
      from: '2099-01-05',
      to: '2099-01-06',
    }),
  },
  cancelAssignmentAction: {
    needs: 'people:assign',
    path: (scene) => `/people/today?site=${scene.site.id}`,
    input: async (scene) => ({ assignmentId: await assignmentOf(scene) }),
  },
  receiveVisitorAction: {
    needs: 'people:assign',
    path: (scene) => `/people/today?site=${scene.site.id}`,
    input: (scene) => ({
      ...site(scene),
      name: 'Vera Guest',
      firm: '',
      purpose: 'Looks at the crane',
      hostId: scene.team.foreman.id,
      isTold: 'yes',
    }),
  },
  visitorLeftAction: {
    needs: 'people:assign',
    path: (scene) => `/people/today?site=${scene.site.id}`,
    input: async (scene) => ({ visitorId: await visitorOf(scene) }),
  },
  addCrewAction: {
    needs: 'people:write',
    path: () => '/people/crews/new',
    input: (scene) => ({ ...site(scene), name: `Crew ${uuidv7()}` }),
  },
  changeCrewAction: {
    needs: 'people:write',
    path: async (scene) => `/people/crews/${await crewOf(scene)}`,
    input: async (scene) => ({
      ...site(scene),
      crewId: await crewOf(scene),
      name: `Crew ${uuidv7()}`,
    }),
  },
  addCrewMemberAction: {
    needs: 'people:write',
    path: async (scene) => `/people/crews/${await crewOf(scene)}`,
    input: async (scene) => ({
      crewId: await crewOf(scene),
      personId: scene.people.yard_hand.id,
    }),
  },
  endCrewMemberAction: {
    needs: 'people:write',
    path: async (scene) => `/people/crews/${await crewOf(scene)}`,
    input: async (scene) => ({ memberId: await memberOf(scene) }),
  },
  addSiteAction: {
    needs: 'site:write',
    path: () => '/sites/new',
    input: (scene) => ({
      ...PLACE,
      name: `Site ${uuidv7()}`,
      likeSiteId: scene.site.id,
    }),
  },
  changeSiteAction: {
    needs: 'site:write',
    path: (scene) => `/sites/${scene.site.id}`,
    input: async (scene) => ({
      ...PLACE,
      ...site(scene),
      name: scene.site.name,
      zone: scene.site.zone,
      version: String(await scene.read('SELECT version FROM sites WHERE id = $1', [scene.site.id])),
    }),
  },
  saveAreaAction: {
    needs: 'site:write',
    path: (scene) => `/sites/${scene.site.id}/area`,
    input: (scene) => ({
      ...site(scene),
      areaId: '',
      name: `Deck ${uuidv7()}`,
      areaClass: 'permit',
      floor: 'combustible',
      wall: 'metal',
      levelFt: '12',
      shipyardSpace: 'none',
      posts: 'At the work\nBelow',
      seenWithId: scene.site.area.id,
    }),
  },
  savePrefsAction: {
    needs: 'own',
    path: () => '/me',
    input: () => ({ units: 'si', clock: '12', theme: 'dark' }),
  },
  seeNoticeAction: {
    needs: 'own',
    namesOwner: true,
    path: (scene) => `/today?site=${scene.site.id}`,
    input: async (scene, person) => ({ noticeId: await tell(scene, person) }),
  },
  changePinAction: {
    needs: 'own',
    path: () => '/me',
    input: () => ({ ...PIN, newPin: '907214', newPinAgain: '907214' }),
  },
} as const satisfies Record<string, ActionRow>

type Kept = Readonly<Record<string, number | boolean | null>>

/** The boxes of the company's layer as it is kept, with another limit beside it. */
async function companyBoxes(scene: Scene): Promise<Record<string, string>> {
  const kept = await scene.read<Kept | Readonly<{ parameters: Kept }>>(
    'SELECT params FROM company_layers ORDER BY from_at DESC, id DESC LIMIT 1',
  )
  const params: Kept = {
    ...COMPANY_LAYER.parameters,
    ...('parameters' in kept ? (kept.parameters as Kept) : (kept as Kept)),
  }
  const boxes = PARAMETER_NAMES.map((name) => {
    const value = params[name] ?? null
    return [parameterBox(name), value === true ? 'yes' : value === false ? '' : `${value ?? ''}`]
  })
  return { ...Object.fromEntries(boxes), p_keepRecordsHours: '480000' }
}

const RULES = {
  saveLocalRulesetAction: {
    needs: 'rules:write',
    path: (scene) => `/rules/new?site=${scene.site.id}`,
    input: (scene) => ({
      ...site(scene),
      id: `order-${uuidv7().slice(-8)}`,
      label: 'City order',
      citation: 'Section 4',
      edition: '2026',
      provenance: 'memory',
      effectiveFrom: scene.today,
      effectiveTo: '',
      p_keepRecordsHours: '72',
      precautions: ['warning-sign'],
    }),
  },
  takeOnRulesetAction: {
    needs: 'rules:write',
    path: (scene) => `/rules?site=${scene.site.id}`,
    input: (scene) => ({ ...site(scene), rulesetId: 'au-as1674-1' }),
  },
  leaveRulesetAction: {
    needs: 'rules:write',
    path: (scene) => `/rules?site=${scene.site.id}`,
    input: (scene) => ({ ...site(scene), rulesetId: 'us-osha-1910' }),
  },
  saveCompanyLayerAction: {
    needs: 'rules:write',
    path: (scene) => `/rules/company?site=${scene.site.id}`,
    input: async (scene) => ({
      ...site(scene),
      citation: 'Company rule 3',
      ...(await companyBoxes(scene)),
    }),
  },
} as const satisfies Record<string, ActionRow>

/** A near miss here that somebody has followed up already, so that it can be closed. */
export async function incidentOf({ owner, site, people }: Scene): Promise<string> {
  const id = uuidv7()
  await playNow(owner, (scribe) => {
    writeSetUp(scribe, 0, 'incidents', {
      id,
      site_id: site.id,
      area_id: site.area.id,
      kind: 'near_miss',
      what: 'A plate swung past the post',
      happened_at: '2026-01-05T12:00:00Z',
      person_id: people.foreman.id,
      role_then: 'foreman',
    })
    writeSetUp(scribe, 0, 'incident_events', {
      id: uuidv7(),
      site_id: site.id,
      incident_id: id,
      kind: 'followed_up',
      words: 'Tag line added',
      person_id: people.foreman.id,
      role_then: 'foreman',
    })
  })
  return id
}

const INCIDENTS = {
  recordIncidentAction: {
    needs: 'incident:record',
    path: (scene) => `/incidents/new?site=${scene.site.id}`,
    input: (scene) => ({
      areaId: scene.site.area.id,
      permitId: '',
      outfitId: '',
      kind: 'near_miss',
      what: 'A plate swung past the post',
      done: '',
      agoMin: '0',
    }),
  },
  followUpIncidentAction: {
    needs: 'incident:close',
    path: (scene) => `/incidents/new?site=${scene.site.id}`,
    input: async (scene) => ({ incidentId: await incidentOf(scene), words: 'Tag line added' }),
  },
  closeIncidentAction: {
    needs: 'incident:close',
    path: (scene) => `/incidents/new?site=${scene.site.id}`,
    input: async (scene) => ({ incidentId: await incidentOf(scene), words: 'Tag lines are used' }),
  },
} as const satisfies Record<string, ActionRow>

/** Who has begun has another password and PIN than everybody here: nothing that needs one may come after. */
const LAST = {
  beginAction: {
    needs: 'own',
    endsSession: true,
    path: () => '/begin',
    input: async ({ owner }, person) => {
      await playNow(owner, (scribe) =>
        writeChange(
          scribe,
          { atMs: 0, personId: person.id, role: 'administrator' },
          'people:write',
          {
            table: 'people',
            id: person.id,
            set: { password_once_until: new Date('2099-01-01') },
          },
        ),
      )
      return {
        newPassword: 'eleven-kerf-oblique',
        newPasswordAgain: 'eleven-kerf-oblique',
        newPin: '907214',
        newPinAgain: '907214',
      }
    },
  },
} as const satisfies Record<string, ActionRow>

export const ACTION_TABLE: Readonly<Record<string, ActionRow>> = {
  ...INCIDENTS,
  ...RULES,
  ...JOBS,
  ...GAS,
  ...PERMIT_ACTIONS,
  ...OFFICE,
  ...LAST,
}
