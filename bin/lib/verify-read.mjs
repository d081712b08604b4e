// Reads millions of rows in bounded memory. One reader at a time on a connection.
const BATCH = 5_000

/** Rows of a query, one after another; runs inside the caller's transaction. */
export async function* inBatches(client, sql, values = []) {
  await client.query(`DECLARE verify_rows NO SCROLL CURSOR FOR ${sql}`, values)
  try {
    for (;;) {
      const { rows } = await client.query(`FETCH ${BATCH} FROM verify_rows`)
      if (rows.length === 0) return
      yield* rows
    }
  } finally {
    await client.query('CLOSE verify_rows')
  }
}
