// The whole check in one read-only transaction, so that it sees one moment.
import { withClient } from './database.mjs'
import { verifyChains, verifyExpected } from './verify-chains.mjs'
import { verifyCylinders } from './verify-cylinders.mjs'
import { verifyFacts } from './verify-facts.mjs'

/** `NUMBER:HASH`, as the record's pages print it. */
export function parseExpectation(text, chain) {
  const match = /^(\d+):([0-9a-f]{64})$/i.exec(text)
  if (!match) throw new Error('--expect wants NUMBER:HASH, with 64 hexadecimal digits')
  return { chain, seq: Number(match[1]), hash: match[2].toLowerCase() }
}

async function siteChain(client, site) {
  if (site === null || site === 'company') return site
  const { rows } = await client.query(
    'SELECT id FROM sites WHERE id::text = $1 OR lower(name) = lower($1) OR lower(short_name) = lower($1)',
    [site],
  )
  if (rows.length !== 1)
    throw new Error(
      `--site: ${rows.length === 0 ? 'no site' : 'more than one site'} is called "${site}"`,
    )
  return rows[0].id
}

async function check(client, { site, expect, chainsOnly }) {
  const chain = await siteChain(client, site)
  const chains = await verifyChains(client, { chain })
  const expected = expect
    ? await verifyExpected(client, parseExpectation(expect, chain ?? 'company'))
    : null
  const facts = chainsOnly ? null : await verifyFacts(client)
  const cylinders = chainsOnly ? null : await verifyCylinders(client)
  const ok =
    chains.every((result) => result.firstBad === null) &&
    expected?.holds !== false &&
    (facts?.length ?? 0) === 0 &&
    (cylinders?.findings.length ?? 0) === 0
  return { ok, chains, expected, facts, cylinders }
}

/**
 * @param {string} url any role that may read
 * @param {{ site?: string | null, expect?: string | null, chainsOnly?: boolean }} options
 */
export async function verifyRecords(url, { site = null, expect = null, chainsOnly = false } = {}) {
  return withClient(url, async (client) => {
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY')
    try {
      return await check(client, { site, expect, chainsOnly })
    } finally {
      await client.query('ROLLBACK')
    }
  })
}

const many = (count, noun) =>
  `${count.toLocaleString('en-US')} ${count === 1 ? noun : `${noun.replace(/y$/, 'ie')}s`}`

/** The result in plain lines, for a person. */
export function describeResult({ ok, chains, expected, facts, cylinders }) {
  const lines = chains.map(({ chain, entries, lastSeq, lastHash, firstBad }) =>
    firstBad
      ? `ALTERED  ${chain}: entry ${firstBad.seq} is not what it was (${firstBad.why}); ${many(entries, 'entry')} before it hold`
      : `holds    ${chain}: ${many(entries, 'entry')}${entries > 0 ? `, last ${lastSeq}:${lastHash}` : ''}`,
  )
  if (expected)
    lines.push(
      `${expected.holds ? 'holds   ' : 'MISSING '} expected entry ${expected.seq}${expected.why ? ` (${expected.why})` : ''}`,
    )
  for (const finding of facts ?? [])
    lines.push(
      `ALTERED  ${finding.table} ${finding.id} (${finding.why}${finding.seq ? `, entry ${finding.seq} of ${finding.chain}` : ''})`,
    )
  for (const finding of cylinders?.findings ?? [])
    lines.push(`ALTERED  cylinder ${finding.serial}: ${finding.columns.join(', ')}`)
  if (facts) lines.push(`${many(cylinders.cylinders, 'cylinder')} replayed from their events`)
  lines.push(ok ? 'The record is unaltered.' : 'The record was altered.')
  return lines
}
