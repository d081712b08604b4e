import { describe, expect, test, vi } from 'vitest'

// The module reads the settings when it is loaded, and there are none in a unit test.
vi.stubEnv('KERFWATCH_DATABASE_URL', 'postgresql://someone@127.0.0.1/none')
const { isStrongSecret, parseEnv } = await import('@/lib/env')

const STRONG = 'pQ7vR2mXw9Lk4Tz8Yb3Nc6Hd1Jf5Gs0AqWe'
const production = {
  NODE_ENV: 'production',
  KERFWATCH_DATABASE_URL: 'postgresql://kerfwatch_runtime:x@db/kerfwatch',
  NEXTAUTH_URL: 'https://cuts.example',
  NEXTAUTH_SECRET: STRONG,
}

describe('settings', () => {
  test('production with everything in place is accepted', () => {
    expect(parseEnv(production)).toMatchObject({ NODE_ENV: 'production', TRUSTED_PROXIES: 0 })
  })

  test.each([
    ['missing', undefined],
    ['empty', ''],
    ['short', STRONG.slice(0, 31)],
    ['one character over and over', 'a'.repeat(64)],
    ['a word someone typed', 'this-is-my-super-secret-for-production-1'],
    ['the name of the product', `kerfwatch-${STRONG}`],
  ])('production refuses to start with a secret that is %s', (_what, secret) => {
    expect(() => parseEnv({ ...production, NEXTAUTH_SECRET: secret })).toThrow(/NEXTAUTH_SECRET/)
  })

  test('a refusal never repeats the secret', () => {
    const weak = 'correct-horse-secret'
    expect(() => parseEnv({ ...production, NEXTAUTH_SECRET: weak })).toThrow(
      expect.objectContaining({ message: expect.not.stringContaining(weak) }),
    )
  })

  test('production refuses to start without the address that people open', () => {
    expect(() => parseEnv({ ...production, NEXTAUTH_URL: undefined })).toThrow(/NEXTAUTH_URL/)
  })

  test('development needs no secret', () => {
    expect(
      parseEnv({ ...production, NODE_ENV: 'development', NEXTAUTH_SECRET: undefined }),
    ).toBeDefined()
  })

  test.each(['mysql://db/x', 'nonsense', undefined])(
    'a database address of %s is refused',
    (url) => {
      expect(() => parseEnv({ ...production, KERFWATCH_DATABASE_URL: url })).toThrow(
        /KERFWATCH_DATABASE_URL/,
      )
    },
  )

  test.each([
    [STRONG, true],
    ['A1b2C3d4'.repeat(4), false],
    ['x', false],
  ])('%s is strong: %s', (secret, isStrong) => {
    expect(isStrongSecret(secret)).toBe(isStrong)
  })
})
