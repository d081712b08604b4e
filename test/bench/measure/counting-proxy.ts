import net from 'node:net'

/** A statement as it went over the wire, with its parameters and the rows that came back. */
export interface SeenStatement {
  text: string
  params: (string | null)[]
  rows: number
}

export interface CountingProxy {
  /** The same address, through the proxy. */
  url: string
  /** Forgets what was seen, and begins again. */
  reset: () => void
  /** What ran since, without the words that open and end transactions. */
  seen: () => SeenStatement[]
  stop: () => Promise<void>
}

const NOT_COUNTED = /^\s*(BEGIN|COMMIT|ROLLBACK|SET|DEALLOCATE|DISCARD)\b/i
const FRONTEND = { query: 0x51, parse: 0x50, bind: 0x42, execute: 0x45 }
const COMMAND_COMPLETE = 0x43

/** Cuts a stream of PostgreSQL's messages, however it is chopped. The first of a client has no type. */
function messages(hasStartup: boolean, take: (type: number, body: Buffer) => void) {
  let rest = Buffer.alloc(0)
  let isFirst = hasStartup
  return (chunk: Buffer) => {
    rest = Buffer.concat([rest, chunk])
    for (;;) {
      const head = isFirst ? 0 : 1
      if (rest.length < head + 4) return
      const length = rest.readInt32BE(head)
      if (rest.length < head + length) return
      const type = isFirst ? 0 : rest.readUInt8(0)
      isFirst = false
      take(type, rest.subarray(head + 4, head + length))
      rest = rest.subarray(head + length)
    }
  }
}

const textAt = (body: Buffer, from: number) => {
  const end = body.indexOf(0, from)
  return { text: body.toString('utf8', from, end), next: end + 1 }
}

/** The parameters of a Bind message; all of them come as text from the app's driver. */
function readBind(body: Buffer): { statement: string; params: (string | null)[] } {
  const portal = textAt(body, 0)
  const statement = textAt(body, portal.next)
  const formats = body.readInt16BE(statement.next)
  let at = statement.next + 2 + formats * 2
  const count = body.readInt16BE(at)
  at += 2
  const params = Array.from({ length: count }, () => {
    const length = body.readInt32BE(at)
    const value = length < 0 ? null : body.toString('utf8', at + 4, at + 4 + length)
    at += 4 + Math.max(0, length)
    return value
  })
  return { statement: statement.text, params }
}

function watch(client: net.Socket, server: net.Socket, add: (statement: SeenStatement) => void) {
  const prepared = new Map<string, string>()
  let bound: SeenStatement = { text: '', params: [], rows: 0 }
  let running = bound
  const run = (statement: SeenStatement) => {
    running = statement
    add(statement)
  }
  const fromClient = messages(true, (type, body) => {
    if (type === FRONTEND.parse) {
      const name = textAt(body, 0)
      prepared.set(name.text, textAt(body, name.next).text)
    } else if (type === FRONTEND.bind) {
      const { statement, params } = readBind(body)
      bound = { text: prepared.get(statement) ?? '', params, rows: 0 }
    } else if (type === FRONTEND.execute) run(bound)
    else if (type === FRONTEND.query) run({ text: textAt(body, 0).text, params: [], rows: 0 })
  })
  const fromServer = messages(false, (type, body) => {
    if (type !== COMMAND_COMPLETE) return
    running.rows += Number(/ (\d+)$/.exec(textAt(body, 0).text)?.[1] ?? 0)
  })
  client.on('data', (chunk) => {
    fromClient(chunk)
    server.write(chunk)
  })
  server.on('data', (chunk) => {
    fromServer(chunk)
    client.write(chunk)
  })
}

/** Stands between the app and PostgreSQL, passes everything on unchanged, and counts. */
export async function startCountingProxy(databaseUrl: string): Promise<CountingProxy> {
  const target = new URL(databaseUrl)
  const statements: SeenStatement[] = []
  const sockets = new Set<net.Socket>()
  const proxy = net.createServer((client) => {
    const server = net.connect(Number(target.port || 5432), target.hostname)
    for (const [one, other] of [
      [client, server],
      [server, client],
    ] as const) {
      sockets.add(one)
      one.setNoDelay(true)
      one.on('error', () => other.destroy())
      one.on('close', () => {
        sockets.delete(one)
        other.destroy()
      })
    }
    watch(client, server, (statement) => statements.push(statement))
  })
  await new Promise<void>((resolve) => proxy.listen(0, '127.0.0.1', resolve))
  const address = proxy.address()
  const url = new URL(databaseUrl)
  url.hostname = '127.0.0.1'
  url.port = typeof address === 'object' && address ? String(address.port) : ''
  return {
    url: url.href,
    reset: () => {
      statements.length = 0
    },
    seen: () => statements.filter((one) => !NOT_COUNTED.test(one.text)),
    stop: async () => {
      for (const socket of sockets) socket.destroy()
      await new Promise((resolve) => proxy.close(resolve))
    },
  }
}
