import { readdirSync, readFileSync } from 'node:fs'
import { createTranslator } from 'next-intl'
import { describe, expect, test } from 'vitest'
import { RESTORE_CLOCK_SQL } from '@/lib/data/kerf-now'
import messages from '@/messages/en.json'

const MIGRATIONS = 'prisma/migrations'
const migrations = readdirSync(MIGRATIONS, { withFileTypes: true })
  .filter((one) => one.isDirectory())
  .map((one) => readFileSync(`${MIGRATIONS}/${one.name}/migration.sql`, 'utf8'))
const [first = ''] = migrations

/** Codes that lib refuses with before the database has to. */
const inLib = readdirSync('lib', { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts') && !file.includes('generated'))
  .map((file) => readFileSync(`lib/${file}`, 'utf8'))
  .join('\n')
const isRaisedByApp = (code: string) => inLib.includes(`'${code}'`)

function codesInSql(): string[] {
  const patterns = [
    /kerf_(?:reason|refuse)\('([A-Z0-9_]+)'/g,
    /'code', '([A-Z0-9_]+)'/g,
    /(?:THEN|ELSE) '([A-Z0-9]{3,}_[A-Z0-9_]+)'/g,
  ]
  return [
    ...new Set(
      patterns.flatMap((pattern) =>
        migrations.flatMap((sql) => [...sql.matchAll(pattern)].map((match) => match[1] ?? '')),
      ),
    ),
  ].sort()
}

/** A value for every parameter that any refusal names. */
const VALUES = {
  post: 'Deck 2',
  ...{
    area: 'Bay',
    duty: 'watchMin',
    count: 3,
    outfit: 'Outfit 3',
    shiftAt: 0,
    whenAt: 0,
    item: 'ducts',
    hours: 24,
    value: 30,
    limit: 60,
    serial: 'A1',
    status: 'lost',
    ppm: 60,
    maxPpm: 50,
    mph: 22,
    maxMph: 15,
    instrument: 'M1',
  },
  ...{
    lelPct: 12,
    maxPct: 10,
    minPct: 19.5,
    oxygenPct: 18,
    takenAt: '8:00',
    validMin: 60,
    label: 'Zone',
    state: 'held',
    fromAt: '8:00',
    toAt: '9:00',
  },
  ...{
    untilAt: '9:00',
    kind: 'pai',
    day: '2026-01-01',
    place: 2,
    number: '3',
    lastAt: '7:00',
    role: 'pai',
    answer: 'warm',
    rule: 'r',
  },
  ...{
    act: 'agree',
    capHours: 24,
    remainingMin: 12,
    watchMin: 60,
    gas: 'oxygen',
    wanted: 'acetylene',
    field: 'reason',
    limitKb: 500,
  },
  ...{
    check: 'capped',
    citation: '49 CFR 173.6',
    aggregateLb: 480,
    heaviestLb: 230,
    mostLb: 220,
    grossLb: 1001,
  },
  ...{
    quantityFt3: 1708,
    mostFt3: 1500,
    storedFt3: 2100,
    storedLb: 400,
    leastFt: 20,
    mostFt: 25,
    mostF: 125,
    doorFt: 5,
    combustiblesFt: 10,
    leastB: 20,
    isRead: 'yes',
    body: 'truck',
  },
}

describe('words for what the database refuses', () => {
  test('there are codes to find', () => {
    expect(codesInSql().length).toBeGreaterThan(80)
  })

  test('every code has its words, and no words are left over', () => {
    const codes = codesInSql()
    const { refusals, reasons, permit, permitReasons, rules } = messages
    const worded = [refusals, reasons, permit.reasons, permitReasons, rules.problems].flatMap(
      (words) => Object.keys(words),
    )
    expect(codes.filter((code) => !worded.includes(code))).toEqual([])
    const isLeftOver = (code: string) => !codes.includes(code) && !isRaisedByApp(code)
    expect(Object.keys(refusals).filter(isLeftOver)).toEqual([])
  })

  test('every one of them can be said, and ends as a sentence', () => {
    const onError = (error: Error) => {
      throw error
    }
    const say = createTranslator({
      locale: 'en',
      messages,
      namespace: 'refusals',
      timeZone: 'UTC',
      onError,
    })
    for (const code of Object.keys(messages.refusals)) {
      expect(say(code as never, VALUES as never), code).toMatch(
        /^[A-Z][^{}]*\.$|^[A-Z][^{}]* it again\.$/,
      )
    }
  })
})

test('the clock that the first migration creates is the one that tests and the seed restore', () => {
  expect(first).toContain(
    RESTORE_CLOCK_SQL.replace('CREATE OR REPLACE FUNCTION public.', 'CREATE FUNCTION '),
  )
})
