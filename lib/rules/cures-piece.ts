import { type Cure, when } from './cure'

/** What can be done about the piece, its coating and the gear. */
export const PIECE_CURES: readonly Cure[] = [
  {
    code: 'container_cleaned',
    fields: ['container'],
    changes: (c) =>
      when(['used_uncleaned', 'flammable_liquid_tank'].includes(c.container), {
        container: 'used_cleaned_vented_tested',
      }),
  },
  {
    code: 'hollow_vented',
    fields: ['container'],
    changes: (c) => when(c.container === 'sealed_hollow', { container: 'vented_hollow' }),
  },
  {
    code: 'approved_crew',
    fields: ['crewApproved'],
    changes: (c) => when(!c.crewApproved, { crewApproved: true }),
  },
  {
    code: 'coating_stripped',
    fields: ['coating'],
    changes: (c) => when(c.coating !== 'none', { coating: 'none' }),
  },
  {
    code: 'out_of_the_space',
    fields: ['enclosed', 'confinedSpace', 'cylindersLocation'],
    changes: (c) =>
      when(c.enclosed || c.confinedSpace, {
        enclosed: false,
        confinedSpace: false,
        cylindersLocation: 'outside',
      }),
  },
  {
    code: 'cylinders_out',
    fields: ['cylindersLocation'],
    changes: (c) => when(c.cylindersLocation === 'inside', { cylindersLocation: 'outside' }),
  },
  {
    code: 'solvent_away',
    fields: ['chlorinatedSolventFt'],
    changes: (c) => when(c.chlorinatedSolventFt !== null, { chlorinatedSolventFt: null }),
  },
  {
    code: 'solvent_shielded',
    fields: ['solventShielded', 'chlorinatedSolventFt'],
    changes: (c) =>
      when(c.chlorinatedSolventFt !== null && !c.solventShielded, { solventShielded: true }),
  },
  {
    code: 'marine_chemist',
    fields: ['safeForHotWork', 'shipyardSpace'],
    changes: (c) =>
      when(c.safeForHotWork !== 'marine_chemist', { safeForHotWork: 'marine_chemist' }),
  },
  {
    code: 'competent_person',
    fields: ['safeForHotWork', 'shipyardSpace'],
    changes: (c) => when(c.safeForHotWork === 'nobody', { safeForHotWork: 'competent_person' }),
  },
]
