export function listMigrations(): string[]
export function migrate(ownerUrl: string): Promise<string[]>
export function diffSchemas(
  ownerUrl: string,
  fromSchema: string | null,
  toSchema: string,
): Promise<string>
