import type pg from 'pg'

export type Size = 'phone' | 'desk'
type PictureSize = Size | 'paper'

/** One screen of the demo company, as a person sees it. */
export type Screen = Readonly<{
  name: string
  /** Who is signed in; null without a session. */
  email: string | null
  address: string
  /** The README's picture of it: its size and its file's name. */
  readme?: Readonly<{ size: PictureSize; file: string }>
  /** Set on paper: photographed once more as it prints. */
  isPrinted?: true
}>

const MILL = 'Ostrander Mill'
const at = (localPart: string) => `${localPart}@ferrowdunn.example`
const DANA = at('dana.whitlock')
const LUIS = at('luis.arce')
const MEI = at('mei.tran')
const JO = at('jo.pruitt')
const EDDA = at('edda.varley')
const NILS = at('nils.corrigan')
const OTIS = at('otis.brandvold')
const VERA = at('vera.coyle')
const NOBODYS_ID = '00000000-0000-4000-8000-000000000000'

const phone = (file: string) => ({ readme: { size: 'phone', file } }) as const
const desk = (file: string) => ({ readme: { size: 'desk', file } }) as const
const paper = (file: string) => ({ readme: { size: 'paper', file } }) as const

/** Every screen that there is, over the demo company in this database. */
export async function listScreens(owner: pg.Pool): Promise<Screen[]> {
  const found = await findSubjects(owner)
  return [
    ...outside(found),
    ...plan(found),
    ...permit(found),
    ...watch(found),
    ...office(found),
    ...yard(found),
  ]
}

type Subjects = Awaited<ReturnType<typeof findSubjects>>

const LOOKED_WITHIN_MS = 90_000

/** The leak of the demo company: the app looks for it by itself, soon after it has started. */
async function leakFound(owner: pg.Pool): Promise<string> {
  for (const startedMs = Date.now(); Date.now() - startedMs < LOOKED_WITHIN_MS; ) {
    const { rows } = await owner.query<{ id: string }>(
      `SELECT f.id FROM findings f JOIN audit_runs r ON f.id = ANY(r.found)
       WHERE f.kind = 'leak_idle' ORDER BY f.danger DESC, f.cost_minor DESC LIMIT 1`,
    )
    if (rows[0]) return rows[0].id
    await new Promise((resolve) => setTimeout(resolve, 500))
  }
  throw new Error('the app did not find the leak by itself')
}

async function findSubjects(owner: pg.Pool) {
  const first = async (sql: string, values: readonly string[] = []) => {
    const { rows } = await owner.query<{ found: string }>(sql, [...values])
    if (!rows[0]) throw new Error(`the demo company has no answer to: ${sql}`)
    return rows[0].found
  }
  const permitIn = (state: string) =>
    first(
      `SELECT p.id AS found FROM permits p JOIN sites s ON s.id = p.site_id
       WHERE s.name = $1 AND p.state = $2 ORDER BY p.state_at DESC LIMIT 1`,
      [MILL, state],
    )
  const cleared = await first("SELECT id AS found FROM permits WHERE state = 'cleared' LIMIT 1")
  return {
    cleared,
    clearedForeman: await first(
      `SELECT pe.email AS found FROM permits p JOIN grants g ON g.site_id = p.site_id AND g.role = 'foreman'
       JOIN people pe ON pe.id = g.person_id WHERE p.id = $1 AND pe.disabled_at IS NULL LIMIT 1`,
      [cleared],
    ),
    mill: await first('SELECT id AS found FROM sites WHERE name = $1', [MILL]),
    person: await first('SELECT id AS found FROM people WHERE email = $1', [LUIS]),
    outfit: await first(
      'SELECT o.id AS found FROM outfits o JOIN sites s ON s.id = o.site_id WHERE s.name = $1 ORDER BY o.number LIMIT 1',
      [MILL],
    ),
    crew: await first(
      'SELECT c.id AS found FROM crews c JOIN sites s ON s.id = c.site_id WHERE s.name = $1 ORDER BY c.name LIMIT 1',
      [MILL],
    ),
    area: await first(
      'SELECT a.id AS found FROM areas a JOIN sites s ON s.id = a.site_id WHERE s.name = $1 ORDER BY a.name LIMIT 1',
      [MILL],
    ),
    yardLot: await first("SELECT id AS found FROM areas WHERE name = 'Cylinder lot'"),
    loading: await first("SELECT id AS found FROM trips WHERE state = 'loading' LIMIT 1"),
    underWay: await first("SELECT id AS found FROM trips WHERE state = 'under_way' LIMIT 1"),
    count: await first('SELECT id AS found FROM stock_counts ORDER BY at DESC LIMIT 1'),
    delivered: await first(
      `SELECT d.id AS found FROM deliveries d JOIN sites s ON s.id = d.site_id WHERE s.name = $1
       ORDER BY (SELECT count(*) FROM delivery_differences x WHERE x.delivery_id = d.id) DESC, d.received_at DESC LIMIT 1`,
      [MILL],
    ),
    incident: await first('SELECT id AS found FROM incidents ORDER BY recorded_at DESC LIMIT 1'),
    preparing: await permitIn('preparing'),
    open: await permitIn('open'),
    held: await permitIn('held'),
    watch: await permitIn('watch'),
    closed: await permitIn('closed'),
    code: await first(
      `SELECT p.stop_code AS found FROM permits p JOIN sites s ON s.id = p.site_id
       WHERE s.name = $1 AND p.state = 'open' LIMIT 1`,
      [MILL],
    ),
    job: await first("SELECT id AS found FROM jobs WHERE number = '0417'"),
    cut: await first(
      `SELECT c.id AS found FROM cuts c JOIN cut_lists l ON l.id = c.cut_list_id JOIN jobs j ON j.id = l.job_id
       WHERE j.number = '0417' ORDER BY c.ordinal LIMIT 1`,
    ),
    cutToDo: await first(
      `SELECT c.id AS found FROM cuts c JOIN cut_lists l ON l.id = c.cut_list_id JOIN jobs j ON j.id = l.job_id
       WHERE j.number = '0417' ORDER BY c.shape = 'w_shape' DESC, c.done_count >= c.count, c.ordinal LIMIT 1`,
    ),
    shapes: await first("SELECT id AS found FROM jobs WHERE number = '0433'"),
    coped: await first("SELECT id AS found FROM cuts WHERE title = 'Hanger beam, coped'"),
    chart: await first('SELECT id AS found FROM tip_charts WHERE retired_at IS NULL LIMIT 1'),
    audited: await first(
      `SELECT j.id AS found FROM jobs j JOIN sites s ON s.id = j.site_id
       WHERE j.state = 'done' AND s.name = $1 ORDER BY j.planned_start DESC LIMIT 1`,
      [MILL],
    ),
    finding: await leakFound(owner),
    leaking: await first(
      `SELECT site_id AS found FROM findings WHERE kind = 'leak_idle' ORDER BY danger DESC, cost_minor DESC LIMIT 1`,
    ),
    cylinder: await first(
      `SELECT c.id AS found FROM cylinders c JOIN sites s ON s.id = c.site_id
       WHERE s.name = $1 AND c.status = 'in_use' AND c.gas_id = 'oxygen' ORDER BY c.serial LIMIT 1`,
      [MILL],
    ),
  }
}

const outside = ({ code }: Subjects): Screen[] => [
  { name: 'sign-in', email: null, address: '/sign-in' },
  { name: 'sign-out', email: DANA, address: '/sign-out' },
  { name: 'posted-code', email: null, address: `/s/${code}` },
  { name: 'posted-code-unknown', email: null, address: '/s/zzzzzzzzzzzz' },
  { name: 'not-found', email: DANA, address: `/permits/${NOBODYS_ID}` },
]

const plan = ({ job, cut, cutToDo, shapes, coped, chart, cylinder }: Subjects): Screen[] => [
  { name: 'today', email: DANA, address: '/today', ...phone('phone-today') },
  { name: 'cuts', email: DANA, address: '/cuts' },
  { name: 'job', email: DANA, address: `/jobs/${job}`, ...phone('phone-cuts') },
  { name: 'job-new', email: DANA, address: '/jobs/new' },
  { name: 'job-edit', email: DANA, address: `/jobs/${job}/edit` },
  { name: 'job-sheet', email: DANA, address: `/jobs/${job}/sheet` },
  {
    name: 'set-up-card',
    email: DANA,
    address: `/jobs/${job}/card?cut=${cutToDo}`,
    isPrinted: true,
  },
  { name: 'reckon', email: DANA, address: '/reckon' },
  {
    name: 'reckon-contents',
    email: DANA,
    address: '/reckon/contents?units=us&gas=oxygen&nominal=244&full=2200&gauge=790&temperature=61',
  },
  {
    name: 'reckon-run-time',
    email: DANA,
    address:
      '/reckon/run-time?units=us&gas=oxygen&nominal=244&full=2200&gauge=1800&temperature=70&changeAt=150&cylinders=2&draw=140',
  },
  {
    name: 'reckon-manifold',
    email: DANA,
    address:
      '/reckon/manifold?units=us&gas=acetylene&contents=15.4&draw=40&burn=4&air=70&place=indoors',
  },
  {
    name: 'reckon-hose',
    email: DANA,
    address: '/reckon/hose?units=us&gas=oxygen&flow=140&bore=quarter&length=50&tip=30',
  },
  {
    name: 'reckon-leak',
    email: DANA,
    address:
      '/reckon/leak?units=us&gas=oxygen&bore=quarter&length=50&start=60&end=52&elapsed=10&resolution=2',
  },
  {
    name: 'reckon-load',
    email: DANA,
    address:
      '/reckon/load?units=us&weights=160,160,90&other=20&purpose=supports_principal_business&carrier=private',
  },
  {
    name: 'reckon-small-load',
    email: DANA,
    address: '/reckon/small-load?units=si&flammable=150&inert=500',
  },
  { name: 'charts', email: DANA, address: '/charts' },
  { name: 'chart-own', email: DANA, address: `/charts/${chart}` },
  { name: 'chart-built-in', email: DANA, address: '/charts/built-in' },
  { name: 'chart-new', email: DANA, address: '/charts/new' },
  { name: 'cut-new', email: DANA, address: `/jobs/${job}/cut` },
  { name: 'cut-edit', email: DANA, address: `/jobs/${job}/cut?cut=${cut}` },
  { name: 'job-shapes', email: DANA, address: `/jobs/${shapes}` },
  { name: 'sheet-shapes', email: DANA, address: `/jobs/${shapes}/sheet` },
  { name: 'cut-coped', email: DANA, address: `/jobs/${shapes}/cut?cut=${coped}` },
  { name: 'cylinders', email: DANA, address: '/cylinders' },
  { name: 'cylinder', email: DANA, address: `/cylinders/${cylinder}` },
  { name: 'stock-count', email: DANA, address: '/cylinders/count' },
  { name: 'storage', email: DANA, address: '/storage' },
  { name: 'suppliers', email: JO, address: '/suppliers' },
  { name: 'deliveries', email: DANA, address: '/deliveries' },
  { name: 'fleet-import', email: DANA, address: '/cylinders/import' },
  { name: 'scan', email: DANA, address: '/cylinders/scan' },
  { name: 'labels', email: DANA, address: '/cylinders/labels', isPrinted: true },
  { name: 'cylinder-new', email: DANA, address: '/cylinders/new' },
  { name: 'delivery', email: DANA, address: '/deliveries/new' },
  { name: 'outside', email: DANA, address: '/outside' },
]

const permit = (found: Subjects): Screen[] => {
  const { preparing, cleared, clearedForeman, open, held, job } = found
  const ofOpen = (name: string, rest = '') => ({
    name,
    email: DANA,
    address: `/permits/${open}${rest}`,
  })
  return [
    { name: 'permits', email: DANA, address: '/permits' },
    { name: 'permit-new', email: DANA, address: `/permits/new?job=${job}` },
    { name: 'permit-preparing', email: DANA, address: `/permits/${preparing}` },
    { name: 'area-drawing', email: DANA, address: `/permits/${preparing}/drawing` },
    {
      name: 'clearance',
      email: DANA,
      address: `/permits/${preparing}/clearance`,
      ...phone('phone-clearance'),
    },
    { name: 'instruments', email: DANA, address: '/instruments' },
    { name: 'gas-test', email: DANA, address: `/permits/${preparing}/gas-test` },
    { name: 'withdraw', email: DANA, address: `/permits/${preparing}/withdraw` },
    { name: 'permit-paper', email: DANA, address: `/permits/${open}/paper` },
    { name: 'permit-cleared', email: clearedForeman, address: `/permits/${cleared}` },
    { name: 'permit-people', email: clearedForeman, address: `/permits/${cleared}/people` },
    { name: 'sign', email: clearedForeman, address: `/permits/${cleared}/sign` },
    { ...ofOpen('permit-open'), ...phone('phone-permit') },
    { ...ofOpen('permit-open-operator'), email: LUIS },
    ofOpen('permit-rules', '/rules'),
    ofOpen('briefing', '/briefing'),
    ofOpen('log', '/log'),
    ofOpen('swap-oxygen', '/swap?side=oxygen'),
    ofOpen('swap-fuel', '/swap?side=fuel'),
    ofOpen('hold', '/hold'),
    ofOpen('weather', '/weather'),
    ofOpen('hand-over', '/hand-over'),
    ofOpen('end', '/end'),
    { ...ofOpen('posted', '/posted'), isPrinted: true, ...paper('posted-sheet') },
    { name: 'round-codes', email: at('joss.adair'), address: `/permits/${held}/watch/round` },
    { name: 'permit-held', email: DANA, address: `/permits/${held}` },
    { name: 'resume', email: DANA, address: `/permits/${held}/resume` },
  ]
}

const watch = ({ watch: burning, closed }: Subjects): Screen[] => [
  { name: 'today-watch', email: MEI, address: '/today' },
  {
    name: 'watch',
    email: MEI,
    address: `/permits/${burning}/watch`,
    ...phone('phone-watch'),
  },
  { name: 'round', email: MEI, address: `/permits/${burning}/watch/round` },
  { name: 'close', email: MEI, address: `/permits/${burning}/close` },
  { name: 'permit-closed', email: MEI, address: `/permits/${closed}` },
  {
    name: 'record',
    email: EDDA,
    address: `/permits/${closed}/record`,
    ...desk('desk-record'),
  },
  { name: 'records', email: EDDA, address: '/records' },
]

/** What the yard hand sees. */
const yard = ({ yardLot, loading, underWay, count, incident, delivered }: Subjects): Screen[] => [
  { name: 'delivery-came', email: JO, address: `/deliveries/${delivered}` },
  { name: 'trip-loading', email: OTIS, address: `/trips/${loading}` },
  { name: 'trip-under-way', email: VERA, address: `/trips/${underWay}` },
  { name: 'trip-sheet', email: OTIS, address: `/trips/${underWay}/sheet`, isPrinted: true },
  { name: 'storage-yard', email: OTIS, address: '/storage' },
  { name: 'storage-measure', email: OTIS, address: `/storage/${yardLot}` },
  { name: 'stock-count-differences', email: OTIS, address: `/cylinders/count/${count}` },
  { name: 'incident', email: VERA, address: `/incidents/${incident}` },
]

const office = ({
  mill,
  person,
  crew,
  area,
  outfit,
  audited,
  finding,
  leaking,
}: Subjects): Screen[] => [
  { name: 'sites', email: JO, address: '/sites', ...desk('desk-sites') },
  { name: 'rent', email: JO, address: `/rent?site=${mill}` },
  { name: 'orders', email: JO, address: `/orders?site=${mill}`, ...desk('desk-orders') },
  { name: 'plan', email: JO, address: '/plan' },
  { name: 'plan-accuracy', email: JO, address: '/plan/accuracy' },
  { name: 'audit', email: JO, address: '/audit' },
  { name: 'audit-job', email: JO, address: `/audit/${audited}`, ...desk('desk-audit-job') },
  { name: 'audit-balance', email: JO, address: `/audit/balance?site=${leaking}&weeks=52` },
  { name: 'findings', email: JO, address: '/audit/findings' },
  { name: 'finding', email: JO, address: `/audit/findings/${finding}` },
  { name: 'people', email: NILS, address: '/people' },
  { name: 'incidents', email: DANA, address: '/incidents' },
  { name: 'incident-new', email: DANA, address: '/incidents/new' },
  { name: 'rules', email: DANA, address: '/rules' },
  { name: 'rules-administrator', email: NILS, address: `/rules?site=${mill}` },
  { name: 'ruleset-new', email: NILS, address: `/rules/new?site=${mill}` },
  { name: 'rules-company', email: NILS, address: `/rules/company?site=${mill}` },
  { name: 'person-new', email: NILS, address: '/people/new' },
  { name: 'person-change', email: NILS, address: `/people?change=${person}` },
  { name: 'person-papers', email: NILS, address: `/people/${person}` },
  { name: 'trips', email: DANA, address: `/trips?site=${mill}` },
  { name: 'outfit', email: DANA, address: `/outfits/${outfit}` },
  { name: 'outfit-edit', email: DANA, address: `/outfits/${outfit}/edit` },
  { name: 'outfit-new', email: DANA, address: '/outfits/new' },
  { name: 'tips', email: DANA, address: `/outfits/tips?site=${mill}` },
  { name: 'extinguishers', email: DANA, address: `/extinguishers?site=${mill}` },
  { name: 'people-today', email: DANA, address: `/people/today?site=${mill}` },
  { name: 'crew-new', email: NILS, address: '/people/crews/new' },
  { name: 'crew', email: NILS, address: `/people/crews/${crew}` },
  { name: 'site-new', email: NILS, address: '/sites/new' },
  { name: 'site', email: NILS, address: `/sites/${mill}` },
  { name: 'post-labels', email: NILS, address: `/sites/${mill}/posts`, isPrinted: true },
  { name: 'area', email: NILS, address: `/sites/${mill}/area?area=${area}` },
  { name: 'me', email: JO, address: '/me' },
]
