import { expect, test } from 'vitest'
import { nextPath } from '@/app/(auth)/sign-in/next-path'

test.each([
  ['/permits/1?site=2', '/permits/1?site=2'],
  ['/', '/'],
  [undefined, '/'],
  [['/a', '/b'], '/'],
  ['https://elsewhere.example', '/'],
  ['//elsewhere.example', '/'],
  ['/\\elsewhere.example', '/'],
  ['javascript:alert(1)', '/'],
  ['/sign-out', '/'],
])('after signing in, %j leads to %s', (wanted, path) => {
  expect(nextPath(wanted)).toBe(path)
})
