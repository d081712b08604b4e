import { describe, expect, test } from 'vitest'
import { leadsElsewhere } from '@/app/_components/live/leads-elsewhere'

const HERE = { origin: 'https://kerf.example', pathname: '/cylinders', search: '?site=1' }
const PRESS = {
  button: 0,
  metaKey: false,
  ctrlKey: false,
  shiftKey: false,
  altKey: false,
  defaultPrevented: false,
}
const link = (address: string, over: { target?: string; attributes?: readonly string[] } = {}) => {
  const { origin, pathname, search } = new URL(address, 'https://kerf.example/cylinders?site=1')
  const attributes = ['href', ...(over.attributes ?? [])]
  return {
    ...{ origin, pathname, search, target: over.target ?? '' },
    hasAttribute: (name: string) => attributes.includes(name),
  }
}

describe('a pressed link', () => {
  test.each([
    ['another page', link('/trips'), true],
    ['the same page of another site', link('?site=2'), true],
    ['a place on this page', link('#main'), false],
    ['this page', link('/cylinders?site=1'), false],
    ['a file', link('/api/export/cylinders'), false],
    ['what is kept as a file', link('/scan-reader.js', { attributes: ['download'] }), false],
    ['another tab', link('/trips', { target: '_blank' }), false],
    ['another host', link('https://other.example/'), false],
  ])('to %s', (_where, to, isElsewhere) => {
    expect(leadsElsewhere(PRESS, to, HERE)).toBe(isElsewhere)
  })

  test.each(['metaKey', 'ctrlKey', 'shiftKey', 'altKey'] as const)(
    'with %s held is the browser’s',
    (key) => {
      expect(leadsElsewhere({ ...PRESS, [key]: true }, link('/trips'), HERE)).toBe(false)
    },
  )

  test('with another button, or taken already, leads nowhere', () => {
    expect(leadsElsewhere({ ...PRESS, button: 1 }, link('/trips'), HERE)).toBe(false)
    expect(leadsElsewhere({ ...PRESS, defaultPrevented: true }, link('/trips'), HERE)).toBe(false)
  })
})
