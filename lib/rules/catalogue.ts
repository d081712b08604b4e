import type { LayerId } from './types'

interface RuleEntry {
  citation: string
  edition: string
  provenance: 'read' | 'memory'
  sourceTitle: string | null
  layers: readonly LayerId[]
}

/**
 * The rules that this program acts on: id, where it stands, in which edition, and whether the
 * text (or an official adoption or letter with the same content) was read. `memory` means it was
 * not: check before relying on it. Everything is paraphrased elsewhere; link to the citation.
 * Several texts were read in state adoptions, summaries or mirrors, named in `sourceTitle`.
 */
export const RULES = {
  'osha1910-restriction-no-work-if-neither': {
    citation: '29 CFR 1910.252(a)(1)(iii)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle: 'WAC 296-24-69501 Basic precautions (Washington adoption of the federal text)',
    layers: ['us-osha-1910'],
  },
  'osha1910-inspect-before-authorizing': {
    citation: '29 CFR 1910.252(a)(2)(iv)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle: 'ISHN: welding safety precautions (secondary summary of 1910.252(a))',
    layers: ['us-osha-1910'],
  },
  'osha1910-written-permit-preferred': {
    citation: '29 CFR 1910.252(a)(2)(iv)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle: 'ISHN: welding safety precautions (secondary summary of 1910.252(a))',
    layers: ['us-osha-1910'],
  },
  'osha1910-ban-unauthorized-area': {
    citation: '29 CFR 1910.252(a)(2)(vi)(A)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle: 'ISHN: welding safety precautions (secondary summary of 1910.252(a))',
    layers: ['us-osha-1910'],
  },
  'osha1910-ban-sprinkler-impaired': {
    citation: '29 CFR 1910.252(a)(2)(vi)(B)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle: 'ISHN: welding safety precautions (secondary summary of 1910.252(a))',
    layers: ['us-osha-1910'],
  },
  'osha1910-ban-explosive-atmosphere': {
    citation: '29 CFR 1910.252(a)(2)(vi)(C)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle: 'ISHN: welding safety precautions (secondary summary of 1910.252(a))',
    layers: ['us-osha-1910'],
  },
  'osha1910-ban-bulk-ignitables': {
    citation: '29 CFR 1910.252(a)(2)(vi)(D)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle: 'ISHN: welding safety precautions (secondary summary of 1910.252(a))',
    layers: ['us-osha-1910'],
  },
  'osha1910-firesafe-area-only': {
    citation: '29 CFR 1910.252(a)(2)(xv)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1910-management-duties': {
    citation: '29 CFR 1910.252(a)(2)(xiii)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1910-supervisor-duties': {
    citation: '29 CFR 1910.252(a)(2)(xiv)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha-psm-permit': {
    citation: '29 CFR 1910.119(k)(1)-(2); 40 CFR 68.85; 29 CFR 1926.64 (refers to 1910.119)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle:
      'Ohio Adm. Code 3745-104-34 hot work permit (same wording as 29 CFR 1910.119(k) / 40 CFR 68.85)',
    layers: ['always'],
  },
  'osha1926-move-or-protect': {
    citation: '29 CFR 1926.352(a)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-confine-heat': {
    citation: '29 CFR 1926.352(b)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-ban-paint-compounds-dust': {
    citation: '29 CFR 1926.352(c)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-both-sides': {
    citation: '29 CFR 1926.352(f)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'ifc-authorized-areas': {
    citation: 'IFC 3501.3',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-restricted-areas': {
    citation: 'IFC 3501.3 items 1-5',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-operational-permit-triggers': {
    citation: 'IFC 105.6.23 (2021+: 105.5.x)',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 1, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-program-permits-scope': {
    citation: 'IFC 105.6.23 item 6',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 1, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-operator-qualification': {
    citation: 'IFC 3503.4',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-area-review-daily': {
    citation: 'IFC 3504.3',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-prework-check': {
    citation: 'IFC 3504.3.1',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-signage': {
    citation: 'IFC 3503.6',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-sprinklers-stay-on': {
    citation: 'IFC 3504.1.8',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-detector-precautions': {
    citation: 'IFC 3504.1.9',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-impairment-program': {
    citation: 'IFC 901.7-901.7.4',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 9, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-hot-tapping': {
    citation: 'IFC 3504.1.7',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-tank-seven-steps': {
    citation: 'IFC 3510.2 (from the CSB lessons; NFPA 326)',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'nfpa51b-management-designates-pai': {
    citation: 'NFPA 1 41.2 [51B:4.1.1, 4.1.2]',
    edition: 'NFPA 1-2015 / 51B-2014',
    provenance: 'read',
    sourceTitle:
      'NFPA 1 (2015) chapter 41 on a public code viewer (Delaware adoption), opening part',
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-equipment-tagout': {
    citation: 'NFPA 1 41.2 [51B:4.1.3, 4.1.4]',
    edition: 'NFPA 1-2015 / 51B-2014',
    provenance: 'read',
    sourceTitle:
      'NFPA 1 (2015) chapter 41 on a public code viewer (Delaware adoption), opening part',
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-pai-not-operator': {
    citation: 'NFPA 51B definition and ch. 4',
    edition: '51B-2009 to 2024',
    provenance: 'read',
    sourceTitle: 'Iowa State University EHS, Hot Work Permit Guidelines part 6',
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-operator-not-firewatch': {
    citation: 'NFPA 51B ch. 4-5',
    edition: '51B-2014 to 2024',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-pai-may-be-firewatch': {
    citation: 'NFPA 51B annex / training guidance',
    edition: '51B-2014 to 2024',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-area-classes': {
    citation: 'NFPA 51B s.5.3; MA DFS FAQ',
    edition: '51B-2014, in 527 CMR 1.00 (Massachusetts)',
    provenance: 'read',
    sourceTitle: 'Massachusetts Department of Fire Services, hot work FAQ leaflet (hosted copy)',
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-nonpermissible': {
    citation: 'NFPA 51B s.5.2',
    edition: '51B-2009 to 2024',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-permit-24h': {
    citation: 'NFPA 51B s.5.4; MA DFS FAQ',
    edition: '51B-2014, in 527 CMR 1.00',
    provenance: 'read',
    sourceTitle: 'Massachusetts Department of Fire Services, hot work FAQ leaflet (hosted copy)',
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-permit-content': {
    citation: 'MA DFS FAQ',
    edition: '51B-2014, in 527 CMR 1.00',
    provenance: 'read',
    sourceTitle: 'Massachusetts Department of Fire Services, hot work FAQ leaflet (hosted copy)',
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-reinspect-each-shift': {
    citation: 'NFPA 51B s.5.4 (reinspection)',
    edition: '51B-2014 to 2024',
    provenance: 'read',
    sourceTitle: 'Update to NFPA 51B (2019), summary',
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-pai-roles': {
    citation: 'NFPA Today 2017',
    edition: '51B-2014',
    provenance: 'read',
    sourceTitle: 'NFPA Today: hot work permits, who approves them (2017)',
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'osha1910-fw-trigger-minor-fire': {
    citation: '29 CFR 1910.252(a)(2)(iii)(A)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle:
      'WAC 296-307-49503 Special fire prevention precautions (Washington adoption of the federal text)',
    layers: ['us-osha-1910'],
  },
  'osha1910-fw-trigger-35ft': {
    citation: '29 CFR 1910.252(a)(2)(iii)(A)(1)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle:
      'WAC 296-307-49503 Special fire prevention precautions (Washington adoption of the federal text)',
    layers: ['us-osha-1910'],
  },
  'osha1910-fw-trigger-far-but-easy': {
    citation: '29 CFR 1910.252(a)(2)(iii)(A)(2)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle:
      'WAC 296-307-49503 Special fire prevention precautions (Washington adoption of the federal text)',
    layers: ['us-osha-1910'],
  },
  'osha1910-fw-trigger-openings': {
    citation: '29 CFR 1910.252(a)(2)(iii)(A)(3)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle:
      'WAC 296-307-49503 Special fire prevention precautions (Washington adoption of the federal text)',
    layers: ['us-osha-1910'],
  },
  'osha1910-fw-trigger-far-side': {
    citation: '29 CFR 1910.252(a)(2)(iii)(A)(4)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle:
      'WAC 296-307-49503 Special fire prevention precautions (Washington adoption of the federal text)',
    layers: ['us-osha-1910'],
  },
  'osha1910-fw-duties': {
    citation: '29 CFR 1910.252(a)(2)(iii)(B)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle:
      'WAC 296-307-49503 Special fire prevention precautions (Washington adoption of the federal text)',
    layers: ['us-osha-1910'],
  },
  'osha1910-fw-post-30': {
    citation: '29 CFR 1910.252(a)(2)(iii)(B)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle:
      'WAC 296-307-49503 Special fire prevention precautions (Washington adoption of the federal text)',
    layers: ['us-osha-1910'],
  },
  'osha1910-fw-opposite-side': {
    citation: '29 CFR 1910.252(a)(2)(x)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1926-fw-judgement': {
    citation: '29 CFR 1926.352(e)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-fw-open-ended': {
    citation: '29 CFR 1926.352(e)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-fw-instructed': {
    citation: '29 CFR 1926.352(e)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'ifc-fw-required': {
    citation: 'IFC 3504.2.1',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-fw-post-30': {
    citation: 'IFC 3504.2.1',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-fw-whole-area': {
    citation: 'IFC 3504.2.2',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-fw-duties-training': {
    citation: 'IFC 3504.2.3-3504.2.4',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-fw-construction-sole-duty': {
    citation: 'IFC 3304.5.2-3304.5.3',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 33, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'nfpa51b-fw-triggers': {
    citation: 'NFPA 51B s.5.5 (2014) / 5.6 (2019)',
    edition: '51B-2009 to 2024',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-2014-fw-post-30': {
    citation: 'NFPA 51B-2014 s.5.5',
    edition: '51B-2009 and 2014',
    provenance: 'read',
    sourceTitle:
      'Updated fire watch requirements (527 CMR 1.00, NFPA 51B-2019, NFPA 241-2022), consultant note',
    layers: ['us-nfpa51b-2014'],
  },
  'nfpa51b-2019-fw-post-60': {
    citation: 'NFPA 51B-2019 s.5.6.1.1',
    edition: '51B-2019 on',
    provenance: 'read',
    sourceTitle:
      'Updated fire watch requirements (527 CMR 1.00, NFPA 51B-2019, NFPA 241-2022), consultant note',
    layers: ['us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-2019-monitoring-180': {
    citation: 'NFPA 51B-2019 s.5.6.3',
    edition: '51B-2019 on',
    provenance: 'read',
    sourceTitle:
      'Updated fire watch requirements (527 CMR 1.00, NFPA 51B-2019, NFPA 241-2022), consultant note',
    layers: ['us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-fw-other-tasks': {
    citation: 'NFPA 51B s.5.5/5.6',
    edition: '51B-2014 on',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'osha1910-openings': {
    citation: '29 CFR 1910.252(a)(2)(i)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle:
      'WAC 296-307-49503 Special fire prevention precautions (Washington adoption of the federal text)',
    layers: ['us-osha-1910'],
  },
  'osha1910-extinguishing-ready': {
    citation: '29 CFR 1910.252(a)(2)(ii)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle:
      'WAC 296-307-49503 Special fire prevention precautions (Washington adoption of the federal text)',
    layers: ['us-osha-1910'],
  },
  'osha1910-floor-sweep-35': {
    citation: '29 CFR 1910.252(a)(2)(v)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1910-combustible-floor': {
    citation: '29 CFR 1910.252(a)(2)(v)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1910-wet-floor-shock': {
    citation: '29 CFR 1910.252(a)(2)(v)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1910-relocate-35': {
    citation: '29 CFR 1910.252(a)(2)(vii)',
    edition: '29 CFR 1910 current text',
    provenance: 'read',
    sourceTitle: 'ISHN: welding safety precautions (secondary summary of 1910.252(a))',
    layers: ['us-osha-1910'],
  },
  'osha1910-ducts-conveyors': {
    citation: '29 CFR 1910.252(a)(2)(viii)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1910-combustible-walls': {
    citation: '29 CFR 1910.252(a)(2)(ix)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1910-metal-walls': {
    citation: '29 CFR 1910.252(a)(2)(x)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1910-ban-combustible-cover': {
    citation: '29 CFR 1910.252(a)(2)(xi)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1910-ban-pipe-contact': {
    citation: '29 CFR 1910.252(a)(2)(xii)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1910-used-containers': {
    citation: '29 CFR 1910.252(a)(3)(i)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1910-vent-hollow': {
    citation: '29 CFR 1910.252(a)(3)(ii)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1926-extinguisher-immediate': {
    citation: '29 CFR 1926.352(d)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-containers-clean': {
    citation: '29 CFR 1926.352(i)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-containers-vent': {
    citation: '29 CFR 1926.352(j)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-gas-pipelines': {
    citation: '29 CFR 1926.352(i)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-150-sprinkler-valves': {
    citation: '29 CFR 1926.150(d)(1)(ii)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'ifc-combustibles': {
    citation: 'IFC 3504.1.1',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-openings': {
    citation: 'IFC 3504.1.2',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-housekeeping': {
    citation: 'IFC 3504.1.3',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-conveyors': {
    citation: 'IFC 3504.1.4',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-fixed-area-construction': {
    citation: 'IFC 3504.1.5-3504.1.6',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-containers': {
    citation: 'IFC 3504.1.7',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-extinguisher-30ft': {
    citation: 'IFC 3504.2.6',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-roof-extinguisher': {
    citation: 'IFC 3317.3',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 33, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'nfpa51b-35ft-sphere': {
    citation: 'Guide to Hot Work; NFPA 51B s.5.5',
    edition: '51B as applied in Massachusetts',
    provenance: 'read',
    sourceTitle: 'Guide to Hot Work / NFPA 51B after July 1 2018 (Massachusetts local guide)',
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'osha-cs-oxygen-range': {
    citation: '29 CFR 1926.1202; 1910.146(b)',
    edition: '29 CFR 1926 subpart AA (same limits in 1910.146(b))',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['always'],
  },
  'osha-cs-lfl-10': {
    citation: '29 CFR 1926.1202; 1910.146(b)',
    edition: '29 CFR 1926 subpart AA (same limit in 1910.146(b))',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['always'],
  },
  'osha-cs-test-order': {
    citation: '29 CFR 1926.1204(e)(3)',
    edition: '29 CFR 1926 subpart AA',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['always'],
  },
  'osha-cs-continuous-monitoring': {
    citation: '29 CFR 1926.1204(e)(2)',
    edition: '29 CFR 1926 subpart AA',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['always'],
  },
  'osha-cs-permit-signature': {
    citation: '29 CFR 1926.1205(b)-(d)',
    edition: '29 CFR 1926 subpart AA',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['always'],
  },
  'osha-cs-links-hot-work': {
    citation: '29 CFR 1926.1206(p)',
    edition: '29 CFR 1926 subpart AA',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['always'],
  },
  'osha1926-800-hotwork-suspend-10': {
    citation: '29 CFR 1926.800(j)(1)(viii)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'nfpa51b-sole-proprietor': {
    citation: 'NFPA 51B ch. 4 (sole proprietors and individual contractors)',
    edition: '51B-2014 to 2024',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'local-outdoor-burn-ban-example': {
    citation: 'Outdoor welding guidelines',
    edition: 'burn-ban guideline',
    provenance: 'read',
    sourceTitle: 'Tarrant County (Texas) fire marshal outdoor welding guidelines during burn bans',
    layers: [],
  },
  'osha1926-no-cylinders-confined': {
    citation: '29 CFR 1926.350(b)(4)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-gas-off-outside': {
    citation: '29 CFR 1926.352(g)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1910-torch-valve-off-outside': {
    citation: '29 CFR 1910.252(a)(4)(ii)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'ifc-shutoff-1h': {
    citation: 'IFC 3505.6',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'osha1926-confined-ventilation': {
    citation: '29 CFR 1926.353(b)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-confined-attendant': {
    citation: '29 CFR 1926.353(b)(3)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'csb-gas-monitoring': {
    citation: 'CSB Seven key lessons, lesson 3',
    edition: 'Bulletin 2009-01-SB (2010)',
    provenance: 'read',
    sourceTitle: 'CSB seven key lessons on hot work at tanks (summary of bulletin 2009-01-SB)',
    layers: ['always'],
  },
  'osha1926-zinc-lead-chromium-enclosed': {
    citation: '29 CFR 1926.353(c)(1)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-lead-cadmium-mercury-enclosed': {
    citation: '29 CFR 1926.353(c)(2)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-toxic-metals-open-air': {
    citation: '29 CFR 1926.353(c)(3)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-mig-solvent-200ft': {
    citation: '29 CFR 1926.353(d)(1)(i)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-coating-flammability-test': {
    citation: '29 CFR 1926.354(a)-(b)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-toxic-coating-4in': {
    citation: '29 CFR 1926.354(c)-(d)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-lead-task-2500': {
    citation: '29 CFR 1926.62(d)(2)(iv)-(v)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-hose-shift-inspection': {
    citation: '29 CFR 1926.350(f)(3)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha1926-torch-shift-inspection': {
    citation: '29 CFR 1926.350(g)(2)-(3)',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['us-osha-1926'],
  },
  'osha-cs-permit-1y': {
    citation: '29 CFR 1926.1205(f)',
    edition: '29 CFR 1926 subpart AA (same in 1910.146(e)(6))',
    provenance: 'read',
    sourceTitle:
      'eCFR Title 29 chapter XVII text, snapshot January 2025 (public repository copy; tables absent)',
    layers: ['always'],
  },
  'osha-exposure-records-30y': {
    citation: '29 CFR 1910.1020(d)(1)(ii)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['always'],
  },
  'ifc-permit-48h': {
    citation: 'IFC 3503.3',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'ifc-prework-report-48h': {
    citation: 'IFC 3503.5',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    sourceTitle:
      '2020 Minnesota State Fire Code (2018 IFC base, amended), chapter 35, ICC public viewer page, read in a public repository copy',
    layers: ['us-ifc-2018'],
  },
  'nfpa51b-final-check-30': {
    citation: 'NFPA 51B ch. 4 (PAI duties); NFPA 1 41.2',
    edition: '51B-2009 on',
    provenance: 'read',
    sourceTitle: 'Inspection bureau article on NFPA hot work guidance, June 2025',
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-no-work-if-unprotected': {
    citation: 'NFPA 51B ch. 4 (PAI duties)',
    edition: '51B-2009 on',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-ban-combustible-cover': {
    citation: 'NFPA 51B ch. 5 (permit conditions)',
    edition: '51B-2009 on',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-ban-pipe-contact': {
    citation: 'NFPA 51B ch. 5 (permit conditions)',
    edition: '51B-2009 on',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'nfpa51b-ducts-conveyors': {
    citation: 'NFPA 51B ch. 5 (permit conditions)',
    edition: '51B-2009 on',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'osha1910-no-cylinders-confined': {
    citation: '29 CFR 1910.252(b)(4)(iii)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'nfpa51b-fw-trained': {
    citation: 'NFPA 51B ch. 5 (fire watch)',
    edition: '51B-2009 on',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'],
  },
  'osha1910-degreasing-vapours': {
    citation: '29 CFR 1910.252(c)(11)(ii)',
    edition: '29 CFR 1910 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1910'],
  },
  'osha1926-lead-torch-respirator-apf50': {
    citation: '29 CFR 1926.62(d)(2), (f)',
    edition: '29 CFR 1926 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1926'],
  },
  'osha1915-nondesignated-inspection': {
    citation: '29 CFR 1915.503(a)(2)',
    edition: '29 CFR 1915 subpart P current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1915'],
  },
  'au-as1674-hazardous-area-roles': {
    citation: 'AS 1674.1 s.3 (as applied)',
    edition: 'AS 1674.1-1997',
    provenance: 'read',
    sourceTitle: 'University of Adelaide hot work FAQ on AS 1674.1',
    layers: ['au-as1674-1'],
  },
  'osha1915-fw-triggers': {
    citation: '29 CFR 1915.504(b)(1)-(8)',
    edition: '29 CFR 1915 subpart P current text',
    provenance: 'read',
    sourceTitle: '29 CFR 1915.504 Fire watches',
    layers: ['us-osha-1915'],
  },
  'osha1915-fw-distance-3d': {
    citation: '29 CFR 1915.504(b)(3)',
    edition: '29 CFR 1915 subpart P current text',
    provenance: 'read',
    sourceTitle: '29 CFR 1915.504 Fire watches',
    layers: ['us-osha-1915'],
  },
  'osha1915-fw-no-other-duties': {
    citation: '29 CFR 1915.504(c)(1)',
    edition: '29 CFR 1915 subpart P current text',
    provenance: 'read',
    sourceTitle: '29 CFR 1915.504 Fire watches',
    layers: ['us-osha-1915'],
  },
  'osha1915-fw-post-30-or-survey': {
    citation: '29 CFR 1915.504(c)(2)',
    edition: '29 CFR 1915 subpart P current text',
    provenance: 'read',
    sourceTitle: '29 CFR 1915.504 Fire watches',
    layers: ['us-osha-1915'],
  },
  'osha1915-fw-policy-and-authority': {
    citation: '29 CFR 1915.504(a),(c)',
    edition: '29 CFR 1915 subpart P current text',
    provenance: 'read',
    sourceTitle: '29 CFR 1915.504 (verified-against-eCFR copy, 2026)',
    layers: ['us-osha-1915'],
  },
  'osha1915-unattended-hoses': {
    citation: '29 CFR 1915.503(b)(2)',
    edition: '29 CFR 1915 subpart P current text',
    provenance: 'memory',
    sourceTitle: '8 CCR 8397.14 (California twin of 29 CFR 1915.503), excerpt',
    layers: ['us-osha-1915'],
  },
  'nfpa241-torch-roofing-120': {
    citation: 'NFPA 241-2022 (torch-applied roofing)',
    edition: 'NFPA 241-2022',
    provenance: 'read',
    sourceTitle:
      'Updated fire watch requirements (527 CMR 1.00, NFPA 51B-2019, NFPA 241-2022), consultant note',
    layers: ['us-nfpa241-2022'],
  },
  'uk-jcop10-fw-60': {
    citation: 'Joint Code of Practice s.16.15(a)',
    edition: 'Joint Code 10th ed.',
    provenance: 'read',
    sourceTitle:
      'Joint Code of Practice, Fire Prevention on Construction Sites, 10th ed., s.16.15 as reported',
    layers: ['uk-jcop10'],
  },
  'uk-jcop10-further-checks': {
    citation: 'Joint Code of Practice s.16.15(b)',
    edition: 'Joint Code 10th ed.',
    provenance: 'read',
    sourceTitle:
      'Joint Code of Practice, Fire Prevention on Construction Sites, 10th ed., s.16.15 as reported',
    layers: ['uk-jcop10'],
  },
  'uk-jcop10-far-side-10m': {
    citation: 'Joint Code of Practice s.16.15(b)',
    edition: 'Joint Code 10th ed.',
    provenance: 'read',
    sourceTitle:
      'Joint Code of Practice, Fire Prevention on Construction Sites, 10th ed., s.16.15 as reported',
    layers: ['uk-jcop10'],
  },
  'ca-nfc-fw-60-inspect-240': {
    citation: 'NFC Division B 5.2.3.3',
    edition: 'National Fire Code 2010-2020',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['ca-nfc'],
  },
  'au-as1674-fw-30': {
    citation: 'AS 1674.1 s.2-3',
    edition: 'AS 1674.1-1997',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['au-as1674-1'],
  },
  'osha1915-training-records': {
    citation: '29 CFR 1915.508(c),(e)',
    edition: '29 CFR 1915 subpart P current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1915'],
  },
  'osha1915-no-cylinders-confined': {
    citation: '29 CFR 1915.55(b)',
    edition: '29 CFR 1915 subpart D current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1915'],
  },
  'osha1915-atmosphere-oxygen-enriched-22': {
    citation: '29 CFR 1915.11(b), 1915.12(a)',
    edition: '29 CFR 1915 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1915'],
  },
  'osha1915-atmosphere-flammable-10-lel': {
    citation: '29 CFR 1915.12(b)',
    edition: '29 CFR 1915 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1915'],
  },
  'osha1915-marine-chemist-certificate': {
    citation: '29 CFR 1915.14(a)',
    edition: '29 CFR 1915 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1915'],
  },
  'osha1915-competent-person-hot-work': {
    citation: '29 CFR 1915.14(b)',
    edition: '29 CFR 1915 current text',
    provenance: 'memory',
    sourceTitle: null,
    layers: ['us-osha-1915'],
  },
} as const satisfies Record<string, RuleEntry>

export type RuleId = keyof typeof RULES

/** The rule with this id, or null for a house default or an id of an older edition. */
export function findRule(id: string | null): RuleEntry | null {
  return id !== null && Object.hasOwn(RULES, id) ? RULES[id as RuleId] : null
}
