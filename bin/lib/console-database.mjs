// The database for a command at the console: the one named by DATABASE_URL, else the embedded one.
export async function consoleDatabase() {
  if (process.env.DATABASE_URL) return { url: process.env.DATABASE_URL, stop: async () => {} }
  const { createDatabase } = await import('./database.mjs')
  const { inRoot } = await import('./paths.mjs')
  const { startPostgres } = await import('./postgres.mjs')
  const server = await startPostgres({ dataDir: inRoot('.kerfwatch', 'postgres') })
  return { url: await createDatabase(server.ownerUrl, 'kerfwatch'), stop: server.stop }
}
