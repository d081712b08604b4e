// The demo company's sign-ins, for the person at the terminal.
import { tsImport } from 'tsx/esm/api'
import { withClient } from './database.mjs'

const column = (text, width) => String(text ?? '').padEnd(width)

/** Lines to print; none when the database holds a real company. */
export async function demoSignIns(ownerUrl) {
  const isDemo = await withClient(ownerUrl, async (client) => {
    const { rowCount } = await client.query('SELECT 1 FROM company WHERE is_demo')
    return rowCount > 0
  })
  if (!isDemo) return []
  const { DEMO_SIGN_INS } = await tsImport('../../seed/demo/sign-ins.ts', import.meta.url)
  return [
    'This is a demo: an invented company, invented people, invented records. Sign in as',
    '',
    `  ${column('role', 14)}${column('e-mail', 38)}${column('password', 18)}PIN`,
    ...DEMO_SIGN_INS.map(
      ({ role, email, password, pin }) =>
        `  ${column(role.replace('_', ' '), 14)}${column(email, 38)}${column(password, 18)}${pin}`,
    ),
    '',
  ]
}

/** What to do where a company has nobody who could sign in. */
export async function nobodyYet(ownerUrl) {
  const isLone = await withClient(ownerUrl, async (client) => {
    const { rowCount } = await client.query('SELECT 1 FROM people LIMIT 1')
    return rowCount === 0
  })
  if (!isLone) return []
  return [
    'This company has nobody yet. Make its first administrator from another terminal, in this folder:',
    '',
    '  npm run administrator -- --name "Your Name" --email you@firm.example --site "Main yard"',
    '',
  ]
}
