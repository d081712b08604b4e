import { describe, expect, test } from 'vitest'
import {
  ACTIONS,
  type Action,
  assertCan,
  can,
  ROLES,
  type Role,
  rolesAt,
  sitesWhere,
} from '@/lib/access/access'

// Written by hand from what each role is for, not read from lib/access: one column a role, in the
// order below; x = may.
const COLUMNS: readonly Role[] = [
  'foreman',
  'operator',
  'fire_watch',
  'pai',
  'shop_manager',
  'yard_hand',
  'auditor',
  'administrator',
]
//                          foreman, operator, watch, PAI, manager, yard, auditor, admin
const EXPECTED: Readonly<Record<Action, string>> = {
  'site:read': /*           */ 'x x x x x x x x',
  'job:read': /*            */ 'x x x x x x x x',
  'job:write': /*           */ 'x - - - x - - -',
  'estimate:keep': /*       */ 'x - - - x - - -',
  'chart:write': /*         */ 'x - - - x - - -',
  'permit:read': /*         */ 'x x x x x - x x',
  'permit:prepare': /*      */ 'x x - x - - - -',
  'permit:clear': /*        */ 'x x - x - - - -',
  'permit:sign': /*         */ 'x x x x - - - -',
  'permit:hold': /*         */ 'x x x x - - - -',
  'permit:resume': /*       */ 'x x - x - - - -',
  'permit:log': /*          */ 'x x - - - - - -',
  'permit:end-work': /*     */ 'x x - x - - - -',
  'permit:watch': /*        */ 'x - x x - - - -',
  'permit:paper': /*        */ 'x x x x - - - -',
  'permit:round': /*        */ 'x - x x - - - -',
  'permit:close': /*        */ 'x - x x - - - -',
  'permit:withdraw': /*     */ 'x - - x - - - -',
  'work:stop': /*           */ 'x x x x x x x x',
  'work:outside': /*        */ 'x x x x - - - -',
  'incident:record': /*     */ 'x x x x - x - -',
  'incident:close': /*      */ 'x - - x - - - x',
  'cylinder:read': /*       */ 'x x x x x x x x',
  'cylinder:swap': /*       */ 'x x - - - - - -',
  'cylinder:read-gauge': /* */ 'x x - - x x - -',
  'cylinder:receive': /*    */ 'x - - - x x - -',
  'cylinder:move': /*       */ 'x - - - x x - -',
  'cylinder:quarantine': /* */ 'x x - x x x - -',
  'outfit:write': /*        */ 'x - - - x x - -',
  'outfit:inspect': /*      */ 'x x - - - x - -',
  'extinguisher:check': /*  */ 'x x x x x x - -',
  'order:read': /*          */ 'x - - - x x x -',
  'order:confirm': /*       */ '- - - - x - - -',
  'fleet:read': /*          */ '- - - - x - x x',
  'audit:read': /*          */ 'x - - - x - x x',
  'finding:decide': /*      */ '- - - - x - - -',
  'record:read': /*         */ 'x x x x x - x x',
  'people:read': /*         */ 'x - - x x - x x',
  'people:write': /*        */ '- - - - - - - x',
  'people:assign': /*       */ 'x - - x x - - x',
  'site:write': /*          */ '- - - - - - - x',
  'rules:write': /*         */ '- - - - - - - x',
}

const HERE = 'site-here'
const ELSEWHERE = 'site-elsewhere'
const holding = (...roles: Role[]) => ({ grants: roles.map((role) => ({ siteId: HERE, role })) })

const CELLS = Object.entries(EXPECTED).flatMap(([action, row]) =>
  row.split(' ').map((cell, column) => ({
    action: action as Action,
    role: COLUMNS[column] as Role,
    may: cell === 'x',
  })),
)

describe('who may do what', () => {
  test('the table here has every role and every action', () => {
    expect([...COLUMNS].sort()).toEqual([...ROLES].sort())
    expect(Object.keys(EXPECTED).sort()).toEqual([...ACTIONS].sort())
    expect(CELLS).toHaveLength(ROLES.length * ACTIONS.length)
  })

  test.each(CELLS)('$role, $action on the own site: $may', ({ role, action, may }) => {
    expect(can(holding(role), action, HERE)).toBe(may)
  })

  test.each(CELLS)('$role may never $action on another site', ({ role, action }) => {
    expect(can(holding(role), action, ELSEWHERE)).toBe(false)
    expect(() => assertCan(holding(role), action, ELSEWHERE)).toThrow(
      expect.objectContaining({ code: 'NOT_FOUND' }),
    )
  })

  test('nobody without a grant may do anything', () => {
    for (const action of ACTIONS) expect(can({ grants: [] }, action, HERE)).toBe(false)
  })

  test('an auditor changes nothing and may stop work', () => {
    const changes = ACTIONS.filter((action) => !action.endsWith(':read') && action !== 'work:stop')
    expect(changes.filter((action) => can(holding('auditor'), action, HERE))).toEqual([])
    expect(can(holding('auditor'), 'work:stop', HERE)).toBe(true)
  })

  test('two roles on one site add up, and are both named', () => {
    const viewer = holding('operator', 'yard_hand')
    expect(can(viewer, 'permit:log', HERE)).toBe(true)
    expect(can(viewer, 'cylinder:receive', HERE)).toBe(true)
    expect(rolesAt(viewer, HERE)).toEqual(['operator', 'yard_hand'])
  })

  test('a role on one site gives no scope on another', () => {
    const viewer = {
      grants: [
        { siteId: HERE, role: 'operator' as const },
        { siteId: ELSEWHERE, role: 'fire_watch' as const },
      ],
    }
    expect(sitesWhere(viewer, 'permit:log')).toEqual([HERE])
    expect(sitesWhere(viewer, 'permit:read')).toEqual([HERE, ELSEWHERE])
  })

  test('someone of the site who may not is told so, with the action', () => {
    expect(() => assertCan(holding('fire_watch'), 'permit:log', HERE)).toThrow(
      expect.objectContaining({ code: 'FORBIDDEN', params: { action: 'permit:log' } }),
    )
  })
})
