export function startTestWeb(input: { ownerUrl: string; secret: string }): Promise<{
  url: string
  stop: () => Promise<void>
}>
