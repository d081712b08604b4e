#!/usr/bin/env node
// node bin/schema-diff.mjs: the SQL that turns the committed prisma/schema.prisma into the one in
// the working folder. The start of a migration; triggers and checks are written by hand.
import { readFileSync } from 'node:fs'
import { diffSchemas } from './lib/migrate.mjs'
import { inRoot } from './lib/paths.mjs'
import { run } from './lib/run.mjs'
import { startTestServer } from './lib/test-cluster.mjs'

const { stdout: committed } = await run('git', ['show', 'HEAD:prisma/schema.prisma'])
const server = await startTestServer()
try {
  console.log(
    await diffSchemas(
      server.ownerUrl,
      committed,
      readFileSync(inRoot('prisma/schema.prisma'), 'utf8'),
    ),
  )
} finally {
  await server.stop()
}
