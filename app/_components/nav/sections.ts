import type { Action } from '@/lib/access/access'

/** A page of a section; `label` is a key of `nav.pages` in the messages. */
export interface SectionPage {
  readonly href: string
  readonly label:
    | 'cylinders'
    | 'deliveries'
    | 'trips'
    | 'storage'
    | 'count'
    | 'rent'
    | 'suppliers'
    | 'labels'
    | 'import'
    | 'takeIn'
    | 'people'
    | 'peopleToday'
    | 'tips'
    | 'extinguishers'
    | 'instruments'
    | 'incidents'
    | 'rules'
  /** What a role must be allowed for the page to be offered. */
  readonly needs: Action
}

/** What stands beside each other under one word of the main navigation. */
export const SECTIONS = {
  gas: [
    { href: '/cylinders', label: 'cylinders', needs: 'cylinder:read' },
    { href: '/deliveries', label: 'deliveries', needs: 'cylinder:receive' },
    { href: '/trips', label: 'trips', needs: 'cylinder:read' },
    { href: '/storage', label: 'storage', needs: 'cylinder:read' },
    { href: '/cylinders/count', label: 'count', needs: 'cylinder:move' },
    { href: '/rent', label: 'rent', needs: 'order:read' },
    { href: '/suppliers', label: 'suppliers', needs: 'order:read' },
    { href: '/cylinders/labels', label: 'labels', needs: 'cylinder:read' },
    { href: '/cylinders/new', label: 'takeIn', needs: 'cylinder:receive' },
    { href: '/cylinders/import', label: 'import', needs: 'cylinder:receive' },
  ],
  gear: [
    { href: '/people', label: 'people', needs: 'people:read' },
    { href: '/people/today', label: 'peopleToday', needs: 'people:read' },
    { href: '/outfits/tips', label: 'tips', needs: 'job:read' },
    { href: '/extinguishers', label: 'extinguishers', needs: 'site:read' },
    { href: '/instruments', label: 'instruments', needs: 'permit:read' },
    { href: '/incidents', label: 'incidents', needs: 'permit:read' },
    { href: '/rules', label: 'rules', needs: 'site:read' },
  ],
} as const satisfies Record<string, readonly SectionPage[]>

export type Section = keyof typeof SECTIONS
