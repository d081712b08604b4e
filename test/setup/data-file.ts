import { afterAll } from 'vitest'
import { keepFileDatabase, newTestDatabase } from './database'

// Before the test file is loaded: lib/data connects where the environment says when imported.
const database = await newTestDatabase()
keepFileDatabase(database)
process.env.KERFWATCH_DATABASE_URL = database.runtimeUrl

afterAll(database.drop)
