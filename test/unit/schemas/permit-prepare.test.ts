import { describe, expect, test } from 'vitest'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { evaluate } from '@/lib/rules/evaluate'
import { RULESETS } from '@/lib/rules/layers'
import { PERMIT_PROCESSES } from '@/lib/schemas/permit-prepare'
import messages from '@/messages/en.json'

describe('what a permit may be prepared for', () => {
  test.each(PERMIT_PROCESSES)('%s has its word', (process) => {
    expect(messages.rules.processes[process]).toMatch(/\S/)
  })

  // IFC 2018, 3317.3, as the catalogue has it.
  test('is roofing with a torch too, which wants its extinguisher on the roof', () => {
    expect(PERMIT_PROCESSES).toContain('torch_roofing')
    const { precautions } = evaluate([RULESETS['us-ifc-2018']], {
      ...DEFAULT_CONDITIONS,
      process: 'torch_roofing',
    })
    expect(precautions.map((one) => one.id)).toContain('extinguisher-3A40BC-on-roof')
  })

  test('is hot tapping too, refused while nobody says that its crew is approved', () => {
    expect(PERMIT_PROCESSES).toContain('hot_tapping')
    const tap = { ...DEFAULT_CONDITIONS, process: 'hot_tapping' as const }
    const decide = (over: object) => evaluate([RULESETS['us-ifc-2018']], { ...tap, ...over })
    expect(decide({}).decision).toBe('forbidden')
    expect(decide({ crewApproved: true }).decision).toBe('allowed_with_precautions')
  })
})
