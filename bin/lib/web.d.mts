export function startTestWeb(input: {
  ownerUrl: string
  secret: string
  settings?: Readonly<Record<string, string>>
}): Promise<{
  url: string
  stop: () => Promise<void>
  kill: () => Promise<void>
  pid: number
}>
