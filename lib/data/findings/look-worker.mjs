// Looks through the record in a thread of its own; started by look-thread.ts. The bundle of the pages holds
// no part for a thread, so TypeScript is loaded as it stands.
import { register } from 'tsx/esm/api'

register()
const { lookWhereAsked } = await import('./run.ts')
await lookWhereAsked()
process.exit(0)
