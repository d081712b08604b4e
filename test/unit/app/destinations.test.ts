import { describe, expect, test } from 'vitest'
import {
  DESK_DESTINATIONS,
  isCurrent,
  isTopScreen,
  PHONE_DESTINATIONS,
} from '@/app/_components/nav/destinations'
import { SECTIONS } from '@/app/_components/nav/sections'
import messages from '@/messages/en.json'

describe('the two navigations', () => {
  test.each([...PHONE_DESTINATIONS, ...DESK_DESTINATIONS])(
    '$href has a word and the bar',
    (place) => {
      expect(messages.nav[place.label]).toMatch(/\S/)
      expect(isTopScreen(place.href)).toBe(true)
    },
  )

  test('a page belongs to the place that leads to it, whatever its address', () => {
    expect(isCurrent('/records', '/permits/0417-3/record')).toBe(true)
    expect(isCurrent('/permits', '/permits/0417-3/record')).toBe(false)
    expect(isCurrent('/cuts', '/jobs/0417/edit')).toBe(true)
    expect(isCurrent('/cuts', '/reckon/hose')).toBe(true)
    expect(isCurrent('/cuts', '/charts')).toBe(true)
    expect(isCurrent('/plan', '/orders')).toBe(true)
    expect(isCurrent('/cylinders', '/deliveries/new')).toBe(true)
  })

  test('a page below a destination belongs to it, a longer name does not', () => {
    expect(isCurrent('/permits', '/permits')).toBe(true)
    expect(isCurrent('/permits', '/permits/0417-3')).toBe(true)
    expect(isCurrent('/permits', '/permits-old')).toBe(false)
    expect(isTopScreen('/permits/0417-3')).toBe(false)
  })
})

describe('what stands beside each other', () => {
  test.each([
    ...SECTIONS.gas.map((page) => ({ ...page, under: '/cylinders' })),
    ...SECTIONS.gear.map((page) => ({ ...page, under: '/people' })),
  ])(
    '$href has a word, and its place in the main navigation is $under',
    ({ href, label, under }) => {
      expect(messages.nav.pages[label]).toMatch(/\S/)
      expect(isCurrent(under, href)).toBe(true)
    },
  )

  test('no page stands twice', () => {
    const paths = Object.values(SECTIONS).flatMap((pages) => pages.map((page) => page.href))
    expect(new Set(paths).size).toBe(paths.length)
  })
})
