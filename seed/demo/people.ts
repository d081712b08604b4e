import type { Role } from '@/lib/access/access'
import type { SiteKey } from './places'

export type PersonPlan = Readonly<{
  key: string
  name: string
  /** Where and as what; `everywhere` grants the roles at all six sites. */
  grants: readonly Readonly<{ site: SiteKey | 'everywhere'; roles: readonly Role[] }>[]
  crew?: CrewKey
  pin: string
}>

export type CrewKey = 'mill' | 'coast' | 'high'

/** The hidden factor: how much more than the tables a crew really uses. Nothing in the database says it. */
export const CREWS: Readonly<
  Record<CrewKey, Readonly<{ name: string; site: SiteKey; hiddenFactor: number }>>
> = {
  mill: { name: 'Mill crew', site: 'mill', hiddenFactor: 1.12 },
  coast: { name: 'Coast crew', site: 'harbor', hiddenFactor: 0.94 },
  high: { name: 'High crew', site: 'viaduct', hiddenFactor: 1.31 },
}

const at = (site: SiteKey | 'everywhere', ...roles: Role[]) => ({ site, roles })
const hand = (
  key: string,
  name: string,
  site: SiteKey,
  crew: CrewKey,
  pin: string,
  ...roles: Role[]
): PersonPlan => ({
  key,
  name,
  grants: [at(site, ...roles)],
  crew,
  pin,
})

/** Everybody of the demo company. Nobody works at two sites, so nobody can be in two places. */
export const PEOPLE: readonly PersonPlan[] = [
  { key: 'jo', name: 'Jo Pruitt', grants: [at('everywhere', 'shop_manager')], pin: '480126' },
  {
    key: 'nils',
    name: 'Nils Corrigan',
    grants: [at('everywhere', 'administrator')],
    pin: '730514',
  },
  { key: 'edda', name: 'Edda Varley', grants: [at('everywhere', 'auditor')], pin: '261897' },
  {
    key: 'otis',
    name: 'Otis Brandvold',
    grants: [at('yard', 'yard_hand', 'operator')],
    pin: '905318',
  },
  hand('dana', 'Dana Whitlock', 'mill', 'mill', '314207', 'foreman', 'yard_hand'),
  { key: 'ray', name: 'Ray Oduya', grants: [at('mill', 'pai')], pin: '652840' },
  hand('luis', 'Luis Arce', 'mill', 'mill', '178365', 'operator'),
  hand('pete', 'Pete Halvard', 'mill', 'mill', '843019', 'operator'),
  hand('rosa', 'Rosa Venn', 'mill', 'mill', '529471', 'operator'),
  hand('owen', 'Owen Reyes', 'mill', 'mill', '760283', 'operator', 'fire_watch'),
  hand('bea', 'Bea Lindqvist', 'mill', 'mill', '402958', 'fire_watch'),
  hand('mei', 'Mei Tran', 'mill', 'mill', '915634', 'fire_watch'),
  hand('joss', 'Joss Adair', 'mill', 'mill', '387162', 'fire_watch'),
  hand('sam', 'Sam Kowal', 'harbor', 'coast', '641950', 'foreman', 'pai', 'yard_hand'),
  hand('nell', 'Nell Farouk', 'harbor', 'coast', '208473', 'operator'),
  hand('arlo', 'Arlo Fenn', 'harbor', 'coast', '573816', 'operator'),
  hand('gil', 'Gil Marchetti', 'harbor', 'coast', '834297', 'fire_watch'),
  hand('wes', 'Wes Tindall', 'harbor', 'coast', '196045', 'fire_watch'),
  hand('iris', 'Iris Maddox', 'viaduct', 'high', '750382', 'foreman', 'pai', 'yard_hand'),
  hand('tom', 'Tom Asaro', 'viaduct', 'high', '463918', 'operator'),
  hand('cal', 'Cal Dunmore', 'viaduct', 'high', '927150', 'operator'),
  hand('ivo', 'Ivo Brandt', 'viaduct', 'high', '318674', 'fire_watch'),
  hand('lena', 'Lena Orsk', 'viaduct', 'high', '685203', 'fire_watch'),
  hand('hank', 'Hank Sederholm', 'dam', 'high', '540791', 'foreman', 'pai', 'yard_hand'),
  hand('kit', 'Kit Sorrell', 'dam', 'high', '872436', 'operator'),
  hand('odell', 'Odell Pryce', 'dam', 'high', '139508', 'fire_watch'),
  hand('vera', 'Vera Coyle', 'depot', 'coast', '706342', 'foreman', 'pai', 'yard_hand'),
  hand('dev', 'Dev Ansari', 'depot', 'coast', '491857', 'operator'),
  hand('rhea', 'Rhea Stolz', 'depot', 'coast', '250916', 'fire_watch'),
]

/** Who cuts, who watches and who may issue, at each working site; the first foreman keeps the stock. */
export const TEAMS: Readonly<
  Record<
    Exclude<SiteKey, 'yard'>,
    Readonly<{
      crew: CrewKey
      foreman: string
      pai: string
      operators: readonly string[]
      watches: readonly string[]
    }>
  >
> = {
  mill: {
    crew: 'mill',
    foreman: 'dana',
    pai: 'ray',
    operators: ['luis', 'pete', 'rosa'],
    watches: ['bea', 'mei', 'joss'],
  },
  harbor: {
    crew: 'coast',
    foreman: 'sam',
    pai: 'sam',
    operators: ['nell', 'arlo'],
    watches: ['gil', 'wes'],
  },
  viaduct: {
    crew: 'high',
    foreman: 'iris',
    pai: 'iris',
    operators: ['tom', 'cal'],
    watches: ['ivo', 'lena'],
  },
  dam: { crew: 'high', foreman: 'hank', pai: 'hank', operators: ['kit'], watches: ['odell'] },
  depot: { crew: 'coast', foreman: 'vera', pai: 'vera', operators: ['dev'], watches: ['rhea'] },
}

/** `jo.pruitt@ferrowdunn.example`: the example domain that nobody can own (RFC 2606). */
export function emailOf(person: PersonPlan): string {
  return `${person.name.toLowerCase().replaceAll(' ', '.')}@ferrowdunn.example`
}

/** A person's name by key. */
export const nameOf = (key: string): string =>
  PEOPLE.find((person) => person.key === key)?.name ?? ''
