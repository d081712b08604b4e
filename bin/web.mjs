// One web process: serves the production build, and ends when asked, open event streams included.
import { createServer } from 'node:http'
import next from 'next'
import { ROOT } from './lib/paths.mjs'

const STREAM_PATIENCE_MS = 2_000
const SOCKET_ADDRESS_HEADER = 'x-kerfwatch-socket'
const port = Number(process.env.PORT ?? 3000)
const hostname = process.env.HOST ?? '127.0.0.1'

// What Next says of its own start would land in the middle of the command's lines.
const write = process.stdout.write
process.stdout.write = () => true
const app = next({ dev: false, dir: ROOT, hostname, port })
await app.prepare()
process.stdout.write = write
const handle = app.getRequestHandler()

const server = createServer((request, response) => {
  // The only address that a client cannot choose; it counts sign-in tries.
  request.headers[SOCKET_ADDRESS_HEADER] = request.socket.remoteAddress ?? 'unknown'
  handle(request, response)
})

let isEnding = false
function end() {
  if (isEnding) return
  isEnding = true
  server.close(() => process.exit(0))
  server.closeIdleConnections()
  // An open event stream would keep the process for ever; its browser comes back by itself.
  setTimeout(() => {
    server.closeAllConnections()
    process.exit(0)
  }, STREAM_PATIENCE_MS).unref()
}

for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, end)
process.on('disconnect', end) // the command that started us was killed

server.on('error', (error) => {
  console.error(`Cannot listen on ${hostname}:${port}: ${error.message}`)
  process.exit(1)
})
server.listen(port, hostname, () => process.send?.({ listening: port }))
