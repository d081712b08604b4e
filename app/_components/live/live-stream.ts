const CHANNEL = 'kerfwatch-live'
const LEASE = 'kerfwatch-live-lease'
const BEAT_MS = 5_000
const LEASE_MS = 12_000

interface Lease {
  readonly tab: string
  readonly at: number
}

/** Whether this tab may hold the one stream: nobody does, or who did has gone quiet. */
export function mayLead({
  lease,
  tab,
  nowMs,
}: Readonly<{ lease: Lease | null; tab: string; nowMs: number }>): boolean {
  return (
    lease === null ||
    lease.tab === tab ||
    nowMs - lease.at > LEASE_MS ||
    lease.at > nowMs + LEASE_MS
  )
}

function readLease(): Lease | null {
  try {
    const lease: unknown = JSON.parse(localStorage.getItem(LEASE) ?? 'null')
    const isLease = typeof lease === 'object' && lease !== null && 'tab' in lease && 'at' in lease
    return isLease ? (lease as Lease) : null
  } catch {
    return null // storage may be closed to us; every tab then holds its own stream
  }
}

function writeLease(lease: Lease | null) {
  try {
    if (lease) localStorage.setItem(LEASE, JSON.stringify(lease))
    else localStorage.removeItem(LEASE)
  } catch {
    // as above
  }
}

interface Heard {
  /** Something was committed at one of the person's sites. */
  readonly changed: () => void
  /** The server's time less this device's, as it arrived. */
  readonly measured?: (offsetMs: number) => void
}

type Told =
  | Readonly<{ kind: 'alive' }>
  | Readonly<{ kind: 'changed'; atMs: number }>
  | Readonly<{ kind: 'clock'; offsetMs: number }>

/**
 * One event stream a browser: browsers allow six connections a host, and a stream a tab hangs the
 * seventh. The tab with the lease holds it and tells the others. (Web locks would be simpler, but
 * plain http has none.) Every opening says up to when changes were seen, so that what was committed
 * between two streams, or between the drawing of the page and the first, is told of as well.
 */
export function joinLiveStream(heard: Heard, drawnMs: number) {
  const tab = `${Date.now()}-${Math.random()}`
  const channel = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel(CHANNEL)
  let source: EventSource | null = null
  let aliveAt = 0
  let seenMs = drawnMs

  const tell = (told: Told) => channel?.postMessage(told)
  const hear = (told: Told) => {
    aliveAt = Date.now()
    if (told.kind === 'clock') heard.measured?.(told.offsetMs)
    if (told.kind !== 'changed') return
    seenMs = Math.max(seenMs, told.atMs)
    heard.changed()
  }
  const pass = (told: Told) => {
    hear(told)
    tell(told)
  }
  const open = () => {
    // An EventSource that connects again by itself sends the id of the last message instead.
    source = new EventSource(`/api/live?since=${Math.trunc(seenMs)}`)
    source.onmessage = ({ lastEventId }) => pass({ kind: 'changed', atMs: Number(lastEventId) })
    source.addEventListener('clock', ({ data }) =>
      pass({ kind: 'clock', offsetMs: Number(data) - Date.now() }),
    )
    source.onopen = () => {
      aliveAt = Date.now()
    }
  }
  const beat = () => {
    if (!mayLead({ lease: readLease(), tab, nowMs: Date.now() })) {
      source?.close()
      source = null
      return
    }
    writeLease({ tab, at: Date.now() })
    if (!source || source.readyState === EventSource.CLOSED) open()
    if (source?.readyState !== EventSource.OPEN) return
    aliveAt = Date.now()
    tell({ kind: 'alive' })
  }
  if (channel) channel.onmessage = (event: MessageEvent<Told>) => hear(event.data)
  beat()
  const timer = setInterval(beat, BEAT_MS)
  const leave = () => {
    clearInterval(timer)
    source?.close()
    channel?.close()
    if (readLease()?.tab === tab) writeLease(null)
  }
  window.addEventListener('pagehide', leave)
  return {
    isAlive: () => Date.now() - aliveAt < LEASE_MS,
    leave: () => {
      window.removeEventListener('pagehide', leave)
      leave()
    },
  }
}
