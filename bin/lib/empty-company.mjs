// What npm start was asked to make where there is no company yet.
import { parseArgs } from 'node:util'

/** The company of `npm start -- --empty`, or null for the demo. Where there is one already, neither counts. */
export function emptyCompany(args, env = process.env) {
  const { values } = parseArgs({
    args,
    strict: false,
    options: {
      empty: { type: 'boolean' },
      company: { type: 'string' },
      zone: { type: 'string' },
      currency: { type: 'string' },
    },
  })
  if (!values.empty && env.KERFWATCH_EMPTY !== '1') return null
  return {
    name: values.company ?? 'My company',
    zone: values.zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
    currency: values.currency ?? 'USD',
  }
}
