import { createHash, randomUUID } from 'node:crypto'
import type { Action } from '../../lib/access/access'
import { buildOrder } from '../../seed/builders/orders'
import { pngOf } from '../setup/picture-bytes'
import { permitId, permitPath } from './row'
import type { PermitStage } from './stages'
import { chartOf, countOf, deliveryOf, findingOf, fleetImportOf, incidentOf, tripOf } from './table'
import type { Scene } from './world'

/**
 * One page or route of the build. `signed-in`: anybody with a session, about their own sites;
 * `open`: without one.
 */
export interface RouteRow {
  needs: Action | 'signed-in' | 'open'
  stage?: PermitStage
  path: (scene: Scene) => string | Promise<string>
  /** About whatever sites the viewer has, not about one that the address names. */
  isOfAllSites?: true
  /** A route that changes something: what is sent to it. */
  post?: (scene: Scene) => object | Buffer
  /** Each who may is the permit's own fire watch, for nobody else can. */
  isByWatch?: true
}

const ofSite = (path: string) => (scene: Scene) => `${path}?site=${scene.site.id}`
const plain = (path: string) => () => path
const ofJob = (tail: string) => (scene: Scene) => `/jobs/${scene.job.id}${tail}`
const withKey = (more: object) => () => ({ key: randomUUID(), ...more })

const permitPage = (tail: string, stage: PermitStage): RouteRow => ({
  needs: 'permit:read',
  stage,
  path: permitPath(tail),
})

const OPEN: Record<string, RouteRow> = {
  '/sign-in': { needs: 'open', path: plain('/sign-in') },
  '/s/[code]': {
    needs: 'open',
    stage: 'open',
    path: (scene) => `/s/${scene.permit?.permit.stopCode}`,
  },
  '/api/s/[code]/stop': {
    needs: 'open',
    stage: 'open',
    path: (scene) => `/api/s/${scene.permit?.permit.stopCode}/stop`,
    post: () => ({ step: 'hold' }),
  },
  '/api/s/[code]/sign-on': {
    needs: 'open',
    stage: 'open',
    path: (scene) => `/api/s/${scene.permit?.permit.stopCode}/sign-on`,
    post: () => ({ name: 'Ann Visitor', firm: 'Other Firm', briefed: 'yes' }),
  },
  '/api/auth/[...nextauth]': { needs: 'open', path: plain('/api/auth/session') },
  // A wrong address answers with an empty calendar; the right one is signed.
  '/api/calendar/[token]': { needs: 'open', path: plain('/api/calendar/none') },
  '/api/health': { needs: 'open', path: plain('/api/health') },
  '/api/ready': { needs: 'open', path: plain('/api/ready') },
  '/icon.svg': { needs: 'open', path: plain('/icon.svg') },
}

const DESK: Record<string, RouteRow> = {
  '/': { needs: 'signed-in', isOfAllSites: true, path: plain('/') },
  '/sign-out': { needs: 'signed-in', isOfAllSites: true, path: plain('/sign-out') },
  '/me': { needs: 'signed-in', isOfAllSites: true, path: plain('/me') },
  '/sites': { needs: 'signed-in', isOfAllSites: true, path: plain('/sites') },
  '/api/live': { needs: 'signed-in', isOfAllSites: true, path: plain('/api/live') },
  '/api/live/alarms': { needs: 'signed-in', isOfAllSites: true, path: plain('/api/live/alarms') },
  '/today': { needs: 'site:read', path: ofSite('/today') },
  '/people': { needs: 'people:read', isOfAllSites: true, path: plain('/people') },
  '/people/new': { needs: 'people:write', isOfAllSites: true, path: plain('/people/new') },
  '/trips': { needs: 'cylinder:read', path: ofSite('/trips') },
  '/trips/[tripId]': {
    needs: 'cylinder:read',
    path: async (scene) => `/trips/${await tripOf(scene)}`,
  },
  '/trips/[tripId]/sheet': {
    needs: 'cylinder:read',
    path: async (scene) => `/trips/${await tripOf(scene)}/sheet`,
  },
  '/outfits/new': { needs: 'outfit:write', isOfAllSites: true, path: plain('/outfits/new') },
  '/outfits/tips': { needs: 'job:read', path: ofSite('/outfits/tips') },
  '/outfits/[outfitId]': {
    needs: 'cylinder:read',
    path: (scene) => `/outfits/${scene.outfit.id}`,
  },
  '/outfits/[outfitId]/edit': {
    needs: 'outfit:write',
    path: (scene) => `/outfits/${scene.outfit.id}/edit`,
  },
  '/extinguishers': { needs: 'site:read', path: ofSite('/extinguishers') },
  '/people/today': { needs: 'people:read', path: ofSite('/people/today') },
  '/people/[personId]': {
    needs: 'people:read',
    path: (scene) => `/people/${scene.team.operator.id}`,
  },
  '/api/uploads/evidence': {
    needs: 'people:write',
    path: async (scene) =>
      `/api/uploads/evidence?key=${randomUUID()}&qualificationId=${await qualificationOf(scene)}`,
    post: () => pngOf(8, 8),
  },
  '/api/uploads/evidence/[fileId]': {
    needs: 'people:read',
    path: async (scene) => `/api/uploads/evidence/${await evidenceOf(scene)}`,
  },
  '/people/crews/new': {
    needs: 'people:write',
    isOfAllSites: true,
    path: plain('/people/crews/new'),
  },
  '/people/crews/[crewId]': {
    needs: 'people:write',
    path: async (scene) =>
      `/people/crews/${await scene.read('SELECT id FROM crews WHERE site_id = $1 LIMIT 1', [scene.site.id])}`,
  },
  '/sites/new': { needs: 'site:write', isOfAllSites: true, path: plain('/sites/new') },
  '/sites/[siteId]': { needs: 'site:write', path: (scene) => `/sites/${scene.site.id}` },
  '/sites/[siteId]/posts': {
    needs: 'site:write',
    path: (scene) => `/sites/${scene.site.id}/posts`,
  },
  '/sites/[siteId]/area': {
    needs: 'site:write',
    path: (scene) => `/sites/${scene.site.id}/area?area=${scene.site.area.id}`,
  },
  '/begin': { needs: 'signed-in', isOfAllSites: true, path: plain('/begin') },
  '/audit': { needs: 'audit:read', path: ofSite('/audit') },
  '/audit/[jobId]': { needs: 'audit:read', path: (scene) => `/audit/${scene.job.id}` },
  '/audit/balance': { needs: 'audit:read', path: ofSite('/audit/balance') },
  '/audit/findings': { needs: 'audit:read', path: ofSite('/audit/findings') },
  '/audit/findings/[findingId]': {
    needs: 'audit:read',
    path: async (scene) => `/audit/findings/${await findingOf(scene)}`,
  },
  '/api/audit/csv': { needs: 'audit:read', path: ofSite('/api/audit/csv') },
  '/api/audit/xlsx': { needs: 'audit:read', path: ofSite('/api/audit/xlsx') },
  '/api/audit/pdf': { needs: 'audit:read', path: ofSite('/api/audit/pdf') },
  '/records': { needs: 'record:read', path: ofSite('/records') },
  '/storage': { needs: 'cylinder:read', path: ofSite('/storage') },
  '/storage/[areaId]': {
    needs: 'cylinder:move',
    path: (scene) => `/storage/${scene.site.area.id}`,
  },
  '/suppliers': { needs: 'order:read', path: ofSite('/suppliers') },
  '/rent': { needs: 'order:read', path: ofSite('/rent') },
  '/orders': { needs: 'order:read', path: ofSite('/orders') },
  '/plan': { needs: 'order:read', isOfAllSites: true, path: plain('/plan') },
  '/plan/accuracy': { needs: 'order:read', isOfAllSites: true, path: plain('/plan/accuracy') },
  '/api/plan/sheet': {
    needs: 'order:read',
    path: async ({ owner, site, people }) => {
      const ordered = { siteId: site.id, managerId: people.shop_manager.id }
      return `/api/plan/sheet?supplier=${(await buildOrder(owner, ordered)).supplierId}&as=pdf`
    },
  },
  '/api/plan/trucks': { needs: 'order:read', isOfAllSites: true, path: plain('/api/plan/trucks') },
  '/api/plan/solve': { needs: 'order:read', isOfAllSites: true, path: plain('/api/plan/solve') },
  '/cylinders': { needs: 'cylinder:read', path: ofSite('/cylinders') },
  '/cylinders/[cylinderId]': {
    needs: 'cylinder:read',
    path: (scene) => `/cylinders/${scene.spare.id}`,
  },
  '/cylinders/scan': { needs: 'cylinder:read', path: ofSite('/cylinders/scan') },
  '/cylinders/labels': { needs: 'cylinder:read', path: ofSite('/cylinders/labels') },
  '/api/cylinders/look': {
    needs: 'cylinder:read',
    path: (scene) => `/api/cylinders/look?site=${scene.site.id}&code=${scene.spare.serial}`,
  },
  '/api/scan-reader': { needs: 'open', path: plain('/api/scan-reader') },
  '/cylinders/count': { needs: 'cylinder:move', path: ofSite('/cylinders/count') },
  '/cylinders/count/[countId]': {
    needs: 'cylinder:move',
    path: async (scene) => `/cylinders/count/${await countOf(scene)}`,
  },
  '/cylinders/import': { needs: 'cylinder:receive', path: ofSite('/cylinders/import') },
  '/cylinders/import/[importId]': {
    needs: 'cylinder:receive',
    path: async (scene) => `/cylinders/import/${await fleetImportOf(scene)}`,
  },
  '/api/uploads/fleet': {
    needs: 'cylinder:receive',
    path: (scene) =>
      `/api/uploads/fleet?siteId=${scene.site.id}&fileName=fleet.csv&key=${randomUUID()}`,
    post: (scene) => Buffer.from(`Serial,Gas,Size\nUP-${scene.spare.serial},O2,244`),
  },
  '/api/export/[list]': { needs: 'cylinder:read', path: ofSite('/api/export/deliveries') },
  '/api/cylinders/export': { needs: 'cylinder:read', path: ofSite('/api/cylinders/export') },
  '/cylinders/new': { needs: 'cylinder:receive', path: ofSite('/cylinders/new') },
  '/deliveries': { needs: 'cylinder:read', path: ofSite('/deliveries') },
  '/deliveries/[deliveryId]': {
    needs: 'cylinder:read',
    path: async (scene) => `/deliveries/${(await deliveryOf(scene)).deliveryId}`,
  },
  '/deliveries/new': { needs: 'cylinder:receive', path: ofSite('/deliveries/new') },
  '/cuts': { needs: 'job:read', path: ofSite('/cuts') },
  '/jobs/new': { needs: 'job:write', isOfAllSites: true, path: plain('/jobs/new') },
  '/jobs/[jobId]': { needs: 'job:read', path: ofJob('') },
  '/jobs/[jobId]/card': {
    needs: 'job:read',
    path: (scene) => `/jobs/${scene.job.id}/card?cut=${scene.job.cuts[0]?.id}`,
  },
  '/jobs/[jobId]/cut': { needs: 'job:write', path: ofJob('/cut') },
  '/jobs/[jobId]/edit': { needs: 'job:write', path: ofJob('/edit') },
  '/jobs/[jobId]/sheet': { needs: 'job:write', path: ofJob('/sheet') },
  '/reckon': { needs: 'signed-in', isOfAllSites: true, path: plain('/reckon') },
  '/reckon/[tool]': { needs: 'signed-in', isOfAllSites: true, path: plain('/reckon/hose') },
  '/charts': { needs: 'job:read', isOfAllSites: true, path: plain('/charts') },
  '/charts/new': { needs: 'chart:write', isOfAllSites: true, path: plain('/charts/new') },
  // Charts are the company's: whoever reads jobs at any site may read them.
  '/charts/[chartId]': {
    needs: 'job:read',
    isOfAllSites: true,
    path: async (scene) => `/charts/${await chartOf(scene, scene.people.foreman)}`,
  },
  '/incidents': { needs: 'permit:read', path: ofSite('/incidents') },
  '/incidents/new': { needs: 'incident:record', path: ofSite('/incidents/new') },
  '/incidents/[incidentId]': {
    needs: 'permit:read',
    path: async (scene) => `/incidents/${await incidentOf(scene)}`,
  },
  '/rules': { needs: 'site:read', path: ofSite('/rules') },
  '/rules/new': { needs: 'rules:write', path: ofSite('/rules/new') },
  '/rules/company': { needs: 'rules:write', path: ofSite('/rules/company') },
  '/instruments': { needs: 'permit:read', path: ofSite('/instruments') },
  '/outside': { needs: 'work:outside', path: ofSite('/outside') },
}

const PERMIT: Record<string, RouteRow> = {
  '/permits': { needs: 'permit:read', path: ofSite('/permits') },
  '/permits/new': {
    needs: 'permit:prepare',
    path: (scene) => `/permits/new?job=${scene.job.id}`,
  },
  '/permits/[permitId]': permitPage('', 'open'),
  '/permits/[permitId]/briefing': permitPage('/briefing', 'open'),
  '/permits/[permitId]/clearance': permitPage('/clearance', 'prepared'),
  '/permits/[permitId]/close': permitPage('/close', 'watch'),
  '/permits/[permitId]/drawing': permitPage('/drawing', 'prepared'),
  '/permits/[permitId]/end': permitPage('/end', 'open'),
  '/permits/[permitId]/gas-test': permitPage('/gas-test', 'open'),
  '/permits/[permitId]/hand-over': permitPage('/hand-over', 'open'),
  '/permits/[permitId]/hold': permitPage('/hold', 'open'),
  '/permits/[permitId]/log': permitPage('/log', 'open'),
  '/permits/[permitId]/people': permitPage('/people', 'cleared'),
  '/permits/[permitId]/posted': permitPage('/posted', 'open'),
  '/permits/[permitId]/record': {
    needs: 'record:read',
    stage: 'open',
    path: permitPath('/record'),
  },
  '/permits/[permitId]/resume': permitPage('/resume', 'held'),
  '/permits/[permitId]/rules': permitPage('/rules', 'open'),
  '/permits/[permitId]/sign': permitPage('/sign', 'cleared'),
  '/permits/[permitId]/swap': permitPage('/swap', 'open'),
  '/permits/[permitId]/watch': permitPage('/watch', 'watch'),
  '/permits/[permitId]/watch/round': permitPage('/watch/round', 'watch'),
  '/permits/[permitId]/paper': permitPage('/paper', 'open'),
  '/permits/[permitId]/weather': permitPage('/weather', 'open'),
  '/permits/[permitId]/withdraw': permitPage('/withdraw', 'prepared'),
  '/api/permits/[permitId]/record': {
    needs: 'record:read',
    stage: 'open',
    path: (scene) => `/api/permits/${permitId(scene)}/record`,
  },
  '/api/photos': {
    needs: 'permit:clear',
    stage: 'prepared',
    path: (scene) => `/api/photos?purpose=plan&permitId=${permitId(scene)}&key=${randomUUID()}`,
    post: () => pngOf(8, 8),
  },
  '/api/photos/[pictureId]': {
    needs: 'permit:read',
    stage: 'prepared',
    path: async (scene) => `/api/photos/${await pictureOf(scene)}`,
  },
  '/api/permits/[permitId]/stop': {
    needs: 'work:stop',
    stage: 'open',
    path: (scene) => `/api/permits/${permitId(scene)}/stop`,
    post: withKey({ step: 'hold', deviceAt: '' }),
  },
  '/api/permits/[permitId]/smoke': {
    needs: 'work:stop',
    stage: 'watch',
    path: (scene) => `/api/permits/${permitId(scene)}/smoke`,
    post: withKey({ deviceAt: '' }),
  },
  '/api/permits/[permitId]/round': {
    needs: 'permit:round',
    stage: 'roundDue',
    isByWatch: true,
    path: (scene) => `/api/permits/${permitId(scene)}/round`,
    post: (scene) => ({
      key: randomUUID(),
      deviceAt: '',
      posts: scene.site.area.posts.map((post) => ({ post: post.name, answer: 'clear' })),
    }),
  },
}

/** A picture beside the scene's permit. */
async function pictureOf({ owner, site, team, permit }: Scene): Promise<string> {
  const [id, bytes] = [randomUUID(), pngOf(8, 8)]
  const hash = createHash('sha256').update(bytes).digest('hex')
  // Both in one sending, which is one transaction: neither may stand alone.
  await owner.query(`
    INSERT INTO pictures (id, site_id, permit_id, purpose, mime, width_px, height_px, byte_count, sha256, person_id, role_then)
    VALUES ('${id}', '${site.id}', '${permit?.permit.id}', 'plan', 'image/png', 8, 8, ${bytes.length}, '${hash}', '${team.foreman.id}', 'foreman');
    INSERT INTO picture_bytes (picture_id, bytes) VALUES ('${id}', '\\x${bytes.toString('hex')}')`)
  return id
}

const qualificationOf = (scene: Scene) =>
  scene.read<string>('SELECT id FROM qualifications WHERE person_id = $1 LIMIT 1', [
    scene.team.operator.id,
  ])

/** The paper of a qualification of the scene's operator. */
async function evidenceOf(scene: Scene): Promise<string> {
  const [id, bytes] = [randomUUID(), pngOf(8, 8)]
  const hash = createHash('sha256').update(bytes).digest('hex')
  await scene.owner.query(`
    INSERT INTO evidence_files (id, qualification_id, mime, byte_count, sha256, recorded_by)
    VALUES ('${id}', '${await qualificationOf(scene)}', 'image/png', ${bytes.length}, '${hash}', '${scene.team.foreman.id}');
    INSERT INTO evidence_bytes (file_id, bytes) VALUES ('${id}', '\\x${bytes.toString('hex')}')`)
  return id
}

export const ROUTE_TABLE: Readonly<Record<string, RouteRow>> = { ...OPEN, ...DESK, ...PERMIT }

/** What the framework builds by itself: the pages that say there is none, or that it failed. */
export const BUILT_IN: readonly string[] = ['/_global-error', '/_not-found']
