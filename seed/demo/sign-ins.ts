import { emailOf, PEOPLE, type PersonPlan } from './people'

/** One password for the whole demo company. It opens nothing but invented records. */
export const DEMO_PASSWORD = 'square-end-417'

export type DemoSignIn = Readonly<{
  name: string
  email: string
  password: string
  pin: string
  /** The role to show beside the name. */
  role: 'foreman' | 'operator' | 'fire_watch' | 'pai' | 'shop_manager' | 'auditor' | 'administrator'
  siteName: string | null
}>

function signIn(key: string, role: DemoSignIn['role'], siteName: string | null): DemoSignIn {
  const person: PersonPlan | undefined = PEOPLE.find((candidate) => candidate.key === key)
  if (!person) throw new Error(`no person ${key}`)
  return {
    name: person.name,
    email: emailOf(person),
    password: DEMO_PASSWORD,
    pin: person.pin,
    role,
    siteName,
  }
}

/** What the sign-in page of a demo company shows, one person a role. */
export const DEMO_SIGN_INS: readonly DemoSignIn[] = [
  signIn('dana', 'foreman', 'Ostrander Mill'),
  signIn('luis', 'operator', 'Ostrander Mill'),
  signIn('mei', 'fire_watch', 'Ostrander Mill'),
  signIn('ray', 'pai', 'Ostrander Mill'),
  signIn('jo', 'shop_manager', null),
  signIn('edda', 'auditor', null),
  signIn('nils', 'administrator', null),
]
