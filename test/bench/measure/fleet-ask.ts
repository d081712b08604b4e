import { type ChildProcess, fork } from 'node:child_process'
import path from 'node:path'
import { runtimeUrl } from '@/bin/lib/urls.mjs'
import type { Imported } from './fleet-import'

/** A swap before the history: what is looked at has entries in the record then. */
export const ACTS = ['list', 'filter', 'search', 'swap', 'history'] as const
export type ActName = (typeof ACTS)[number]

export type Asked =
  | Readonly<{ act: ActName; by: 'ours' | 'bare' }>
  | Readonly<{ count: number; tag: string }>
type Answer = Readonly<{ ok: true; value: unknown } | { ok: false; message: string }>

export type FleetProcess = Readonly<{
  /** Does one act once, and tells the milliseconds it took there. */
  time: (act: ActName, by: 'ours' | 'bare') => Promise<number>
  import: (count: number, tag: string) => Promise<Imported>
  stop: () => void
}>

function nextMessage<T>(child: ChildProcess): Promise<T> {
  return new Promise((resolve, reject) => {
    const ended = () => reject(new Error('the process of this fleet ended'))
    child.once('exit', ended)
    child.once('message', (message) => {
      child.off('exit', ended)
      resolve(message as T)
    })
  })
}

/** A process that holds the fleet of this database. */
export async function openFleet(ownerUrl: string): Promise<FleetProcess> {
  const child = fork(path.join(import.meta.dirname, 'fleet-process.ts'), [], {
    execArgv: ['--expose-gc', '--conditions=react-server', '--import', 'tsx'],
    env: { ...process.env, KERFWATCH_DATABASE_URL: runtimeUrl(ownerUrl) },
    stdio: ['ignore', process.stderr, process.stderr, 'ipc'],
  })
  await nextMessage(child)
  const ask = async (asked: Asked) => {
    const answered = nextMessage<Answer>(child)
    child.send(asked)
    const answer = await answered
    if (!answer.ok) throw new Error(answer.message)
    return answer.value
  }
  return {
    time: async (act, by) => Number(await ask({ act, by })),
    import: async (count, tag) => (await ask({ count, tag })) as Imported,
    stop: () => child.kill(),
  }
}
