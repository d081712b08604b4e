export function emptyCompany(
  args: readonly string[],
  env?: Readonly<Record<string, string | undefined>>,
): Readonly<{ name: string; zone: string; currency: string }> | null
