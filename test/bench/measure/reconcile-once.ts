/**
 * Solves one made-up record in a process of its own, so that its memory is its own too; prints JSON.
 * Argument: readings. A tenth as many cylinders, a hundredth as many jobs.
 */
import { globalTests } from '@/lib/calc/gross-error-global'
import { openLedger } from '@/lib/calc/reconcile-ledger'
import { gasRecordOf } from './gas-record'

const record = gasRecordOf(Number(process.argv[2]))
const before = process.cpuUsage()
const components = openLedger(record).components()
const tests = globalTests(components.flatMap((one) => one.solution.blocks))
const { user, system } = process.cpuUsage(before)
console.log(
  JSON.stringify({
    // What a core was busy: whatever else the machine does counts for nothing.
    cpuMs: (user + system) / 1000,
    tests: tests.length,
    maxRssMb: process.resourceUsage().maxRSS / 1024,
  }),
)
