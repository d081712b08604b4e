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

/**
 * One event stream a browser: browsers allow six connections a host, and a stream a tab hangs the
 * seventh. The tab with the lease holds it and tells the others. (Web locks would be simpler, but
 * plain http has none.)
 */
export function joinLiveStream(onChange: () => void) {
  const tab = `${Date.now()}-${Math.random()}`
  const channel = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel(CHANNEL)
  let source: EventSource | null = null
  let aliveAt = 0

  const changed = () => {
    onChange()
    channel?.postMessage('changed')
  }
  const open = () => {
    source = new EventSource('/api/live')
    source.onmessage = changed
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
    channel?.postMessage('alive')
  }
  if (channel) {
    channel.onmessage = (event) => {
      aliveAt = Date.now()
      if (event.data === 'changed') onChange()
    }
  }
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
