import { DEFAULT_CONDITIONS } from './conditions'
import { type Cure, when } from './cure'

/** Somebody who has no part in the permit yet. */
const ANOTHER = 'another'

/** What can be done about people and papers. */
export const PAPER_CURES: readonly Cure[] = [
  {
    code: 'area_inspected',
    fields: ['inspectedBefore'],
    changes: (c) => when(!c.inspectedBefore, { inspectedBefore: true }),
  },
  {
    code: 'permit_written',
    fields: ['writtenPermit'],
    changes: (c) => when(!c.writtenPermit, { writtenPermit: true }),
  },
  {
    code: 'permit_filled_in',
    fields: ['permitFields'],
    changes: (c) =>
      when(Object.values(c.permitFields).includes(false), {
        permitFields: DEFAULT_CONDITIONS.permitFields,
      }),
  },
  {
    code: 'other_authoriser',
    fields: ['roles'],
    changes: (c) =>
      when(c.roles.operator !== null && c.roles.operator === c.roles.authoriser, {
        roles: { ...c.roles, authoriser: ANOTHER },
      }),
  },
  {
    code: 'third_person',
    fields: ['loneOperator'],
    changes: (c) => when(c.loneOperator, { loneOperator: false }),
  },
  {
    code: 'other_watch',
    fields: ['roles'],
    changes: (c) =>
      when(c.roles.fireWatch === null || c.roles.fireWatch === c.roles.operator, {
        roles: { ...c.roles, fireWatch: ANOTHER },
      }),
  },
  {
    code: 'watch_relieved',
    fields: ['fireWatchOtherDuties'],
    changes: (c) => when(c.fireWatchOtherDuties, { fireWatchOtherDuties: false }),
  },
  {
    code: 'watch_trained',
    fields: ['fireWatchTrained'],
    changes: (c) => when(!c.fireWatchTrained, { fireWatchTrained: true }),
  },
  {
    code: 'all_in_one_view',
    fields: ['allExposuresVisibleToOneWatcher'],
    changes: (c) =>
      when(!c.allExposuresVisibleToOneWatcher, { allExposuresVisibleToOneWatcher: true }),
  },
]
