export function makeAdministrator(
  ownerUrl: string,
  wanted: Readonly<{ name: string; email: string; siteName: string }>,
): Promise<{ id: string; isNew: boolean; oncePassword: string; days: number; given: string[] }>
