import { type AddressInfo, createServer, type Socket } from 'node:net'

export type SmtpSink = Readonly<{
  url: string
  /** What was handed over, each as the lines of one message. */
  mails: readonly string[]
  stop: () => Promise<void>
}>

/** Answers by RFC 5321 as far as a client that wants to hand over a mail asks; `isFull` refuses every recipient. */
function serve(socket: Socket, keep: (mail: string) => void, isFull: boolean): void {
  const say = (line: string) => socket.write(`${line}\r\n`)
  let held = ''
  let mail: string[] | null = null
  const line = (text: string) => {
    if (mail) {
      if (text !== '.') {
        mail.push(text.startsWith('..') ? text.slice(1) : text)
        return
      }
      keep(mail.join('\n'))
      mail = null
      say('250 kept')
      return
    }
    const verb = text.slice(0, 4).toUpperCase()
    if (verb === 'DATA') {
      mail = []
      say('354 go on')
    } else if (verb === 'QUIT') {
      say('221 bye')
      socket.end()
    } else say(verb === 'RCPT' && isFull ? '552 full' : '250 ok')
  }
  say('220 sink')
  socket.setEncoding('utf8')
  socket.on('error', () => undefined)
  socket.on('data', (chunk: string) => {
    const lines = (held + chunk).split('\r\n')
    held = lines.pop() ?? ''
    for (const one of lines) line(one)
  })
}

/** A mail server of a test's own on this machine: keeps what it is handed and sends nothing on. */
export async function startSmtpSink({ isFull = false } = {}): Promise<SmtpSink> {
  const mails: string[] = []
  const server = createServer((socket) => serve(socket, (mail) => mails.push(mail), isFull))
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  return {
    url: `smtp://127.0.0.1:${port}`,
    mails,
    stop: () => new Promise((resolve) => server.close(() => resolve())),
  }
}
