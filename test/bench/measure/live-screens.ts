/** A screen that holds the stream open and adds up what it is told. */
export interface LiveScreen {
  readonly told: () => number
  readonly leave: () => void
}

const CHANGES = /^data: (\{.*\})$/

/** Opens the stream as a browser does; ready when the stream has told the time. */
export async function openScreen(url: string, cookie: string): Promise<LiveScreen> {
  const leaving = new AbortController()
  const response = await fetch(`${url}/api/live`, {
    headers: { cookie, accept: 'text/event-stream' },
    signal: leaving.signal,
  })
  if (response.status !== 200 || !response.body)
    throw new Error(`the stream answered ${response.status}`)
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader()
  let told = 0
  let rest = ''
  let isBegun = () => {}
  const begun = new Promise<void>((resolve) => {
    isBegun = resolve
  })
  const read = async () => {
    for (;;) {
      const { done, value } = await reader.read()
      if (done) return
      const lines = (rest + value).split('\n')
      rest = lines.pop() ?? ''
      for (const line of lines) {
        if (line === 'event: clock') isBegun()
        const [, data] = CHANGES.exec(line) ?? []
        if (data) told += (JSON.parse(data) as { changes: number }).changes
      }
    }
  }
  read().catch(() => undefined) // left
  await begun
  return { told: () => told, leave: () => leaving.abort() }
}
