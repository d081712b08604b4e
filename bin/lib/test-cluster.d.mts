export function startTestServer(): Promise<{ ownerUrl: string; stop: () => Promise<unknown> }>
export function testTemplate(ownerUrl: string): Promise<string>
export function copyTemplate(ownerUrl: string, template: string): Promise<string>
