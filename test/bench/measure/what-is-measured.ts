type Visitor = Readonly<{ path: string; email: string }>

/** A page with everything on it, and the same page of somebody who has nothing. */
export type MeasuredPage = Readonly<{
  name: string
  full: Visitor
  empty: Visitor
  /** What only the full page shows. */
  proof: string
}>

const id = (kind: string, number: number) =>
  `0190${kind}-0000-7000-8000-${number.toString(16).padStart(12, '0')}`

const [FULL_SITE, VACANT_SITE] = [id('0001', 1), id('0001', 41)]
/** A job in the middle of the year with some hundred stays, and one with nothing. */
const [FULL_JOB, VACANT_JOB] = [id('0008', 30), id('0008', 4000)]
const MANAGER = 'manager@measured.example'
const NEW_MANAGER = 'manager@vacant.example'

export const PAGES: readonly MeasuredPage[] = [
  {
    name: 'All sites',
    full: { path: '/sites', email: MANAGER },
    empty: { path: '/sites', email: NEW_MANAGER },
    proof: 'Measured site 01',
  },
  {
    name: 'Site',
    full: { path: `/today?site=${FULL_SITE}`, email: 'hand1.site1@measured.example' },
    empty: { path: `/today?site=${VACANT_SITE}`, email: 'foreman@vacant.example' },
    proof: '0050-1',
  },
  {
    name: 'Cylinder list',
    full: { path: `/cylinders?site=${FULL_SITE}`, email: MANAGER },
    empty: { path: `/cylinders?site=${VACANT_SITE}`, email: NEW_MANAGER },
    proof: 'M000001',
  },
  {
    name: 'Job audit',
    full: { path: `/audit/${FULL_JOB}`, email: MANAGER },
    empty: { path: `/audit/${VACANT_JOB}`, email: NEW_MANAGER },
    proof: '0030',
  },
]
