import { describe, expect, test } from 'vitest'
import { clientAddress, contentSecurityPolicy } from '@/lib/content-security'

const policy = (overrides: Partial<Parameters<typeof contentSecurityPolicy>[0]> = {}) =>
  Object.fromEntries(
    contentSecurityPolicy({ nonce: 'abc', isDevelopment: false, isHttps: true, ...overrides })
      .split('; ')
      .map((directive) => {
        const [name = '', ...sources] = directive.split(' ')
        return [name, sources]
      }),
  )

describe('the content security policy', () => {
  test('only scripts with this request’s nonce start, and no text is run as code', () => {
    expect(policy()['script-src']).toEqual([
      "'self'",
      "'nonce-abc'",
      "'strict-dynamic'",
      "'wasm-unsafe-eval'",
    ])
  })

  test('a style element needs the nonce; only attributes are free, for the charts', () => {
    expect(policy()['style-src']).toEqual(["'self'", "'nonce-abc'"])
    expect(policy()['style-src-attr']).toEqual(["'unsafe-inline'"])
  })

  test('no page is framed, posts elsewhere, or loads from another host', () => {
    expect(policy()['frame-ancestors']).toEqual(["'none'"])
    expect(policy()['form-action']).toEqual(["'self'"])
    const hosts = Object.values(policy())
      .flat()
      .filter((source) => /https?:|\*/.test(source))
    expect(hosts).toEqual([])
  })

  test('plain http on a local network is not told to upgrade', () => {
    expect(policy({ isHttps: false })).not.toHaveProperty('upgrade-insecure-requests')
    expect(policy({ isHttps: true })).toHaveProperty('upgrade-insecure-requests')
  })

  test('eval is for development alone', () => {
    expect(policy({ isDevelopment: true })['script-src']).toContain("'unsafe-eval'")
    expect(JSON.stringify(policy())).not.toContain("'unsafe-eval'")
  })
})

describe('the address that tries are counted by', () => {
  const forwardedFor = '203.0.113.7, 198.51.100.2'

  test('without a trusted proxy the header is anyone’s word and ignored', () => {
    expect(clientAddress({ socketAddress: '10.0.0.9', forwardedFor, trustedProxies: 0 })).toBe(
      '10.0.0.9',
    )
  })

  test('with one, what that proxy saw', () => {
    expect(clientAddress({ socketAddress: '10.0.0.9', forwardedFor, trustedProxies: 1 })).toBe(
      '198.51.100.2',
    )
  })

  test('with two, the one before, which the outer proxy saw', () => {
    expect(clientAddress({ socketAddress: '10.0.0.9', forwardedFor, trustedProxies: 2 })).toBe(
      '203.0.113.7',
    )
  })

  test('a proxy that wrote nothing leaves the connection’s own', () => {
    expect(
      clientAddress({ socketAddress: '10.0.0.9', forwardedFor: null, trustedProxies: 1 }),
    ).toBe('10.0.0.9')
  })
})
