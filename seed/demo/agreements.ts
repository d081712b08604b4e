import type { Row } from '../facts'
import { namedUuid } from '../ids'
import { addDays, localDay } from '../zones'
import { SITES } from './places'
import { PRICES, SUPPLIERS, supplierIdOf } from './suppliers'
import { personId, type World } from './world'

const firstDay = (world: World) => addDays(localDay('America/New_York', world.startMs), -30)
const agreed = (world: World) => ({
  valid_from: firstDay(world),
  person_id: personId(world, 'jo'),
  role_then: 'shop_manager',
})

/** What each supplier and each site agreed on; invented. Days of the truck are the site's own. */
export function agreementRows(world: World): Row[] {
  return SUPPLIERS.flatMap(({ key, leadDays, row }) =>
    SITES.map((site) => ({
      id: namedUuid(`agreement/${key}/${site.key}`, world.startMs),
      site_id: world.siteIds[site.key],
      supplier_id: supplierIdOf(key),
      lead_days: leadDays,
      delivery_days: [...site.deliveryDays],
      least_cylinders: key === 'pell' ? 2 : 1,
      most_cylinders: key === 'pell' ? 24 : 40,
      delivery_fee_minor: row.delivery_fee_minor ?? 0,
      breaks: { json: key === 'marrowby' ? [{ from: 10, offMinor: 200 }] : [] },
      ...agreed(world),
    })),
  )
}

/** Rent, demurrage and deposit of each size at each site, in cents; invented. */
export function rentTermsRows(world: World): Row[] {
  return PRICES.flatMap(({ size, supplier, rentMinorPerDay }) =>
    SITES.map((site) => ({
      id: namedUuid(`rent/${size}/${site.key}`, world.startMs),
      site_id: world.siteIds[site.key],
      supplier_id: supplierIdOf(supplier),
      size_id: size,
      free_days: supplier === 'pell' ? 14 : 7,
      rent_minor_per_day: rentMinorPerDay,
      demurrage_from_day: 61,
      demurrage_minor_per_day: rentMinorPerDay * 2,
      deposit_minor: size.startsWith('acetylene') ? 25_000 : 18_000,
      ...agreed(world),
    })),
  )
}

/** The yard's own truck; invented. */
export function vehicleRows(world: World): Row[] {
  return [
    {
      id: namedUuid('vehicle/flatbed', world.startMs),
      site_id: world.siteIds.yard,
      name: 'Flatbed 2',
      plate: 'HLN 2214',
      body: 'open_bed',
      payload_kg: 1100,
    },
  ]
}
