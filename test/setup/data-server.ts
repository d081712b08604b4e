import type { TestProject } from 'vitest/node'
import { startTestServer, testTemplate } from '../../bin/lib/test-cluster.mjs'

declare module 'vitest' {
  interface ProvidedContext {
    serverOwnerUrl: string
    templateName: string
  }
}

/** Starts (or joins) PostgreSQL once a run and builds the database that each test file copies. */
export default async function setup(project: TestProject) {
  const server = await startTestServer()
  try {
    project.provide('serverOwnerUrl', server.ownerUrl)
    project.provide('templateName', await testTemplate(server.ownerUrl))
  } catch (error) {
    await server.stop()
    throw error
  }
  return server.stop
}
