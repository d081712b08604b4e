import { writePermitEvent } from '../records/permit'
import { localDay } from '../zones'
import { briefAt, keepInstruments } from './briefed'
import { drawDeck3 } from './drawn'
import { keepGear } from './gear-kept'
import { type HistoryState, nextOrderNumber, planAhead } from './history'
import { answer, as, clear, closeAt, prepare, testGas, writeRoundOf } from './permit-life'
import { siteOf } from './places'
import { placeOrder } from './stock'
import { castToday, type Day, endWork, leaveOxygen, openAndCut, rounds } from './today-acts'
import type { World } from './world'
import { workInShop } from './yard'

const MIN = 60_000

function playMill(day: Day): void {
  const { world, at } = day
  const deck2 = openAndCut(
    day,
    { site: 'mill', area: 'deck-2', rig: '5', operator: 'rosa', watch: 'mei' },
    -400,
    -36,
    182,
  )
  endWork(day, deck2, -36)
  rounds(day, deck2, [-26, -16])
  writeRoundOf(deck2, at(-1)) // due six minutes ago: five minutes are added
  world.planted.push({ kind: 'late_round', atMs: at(-1), subjectId: deck2.sheet.id })

  const stack = openAndCut(
    day,
    { site: 'mill', area: 'stack', rig: '3', operator: 'luis', watch: 'bea' },
    -378,
    -33,
    182,
  )
  keepInstruments(stack, at(-32))
  briefAt(stack, at(-30))
  testGas(stack, at(-9))
  leaveOxygen(day, stack, -8)

  const pump = openAndCut(
    day,
    { site: 'mill', area: 'pump', rig: '4', operator: 'pete', watch: 'joss' },
    -330,
    -48,
    182,
  )
  writePermitEvent(world.scribe, pump.sheet, as(pump, 'operator', at(-48)), 'held', {
    data: { reason: 'Crane lift overhead' },
  })
  rounds(day, pump, [-38, -28, -18, -8])

  const deck3 = castToday(
    day,
    { site: 'mill', area: 'deck-3', rig: '5', operator: 'owen', watch: 'mei' },
    at(-50),
  )
  prepare(deck3, at(-50), { fromMs: at(60), untilMs: at(182) })
  answer(
    deck3,
    at(-30),
    1,
    deck3.answers.slice(0, 9).map(({ item }) => item),
  )
  drawDeck3(deck3, at(-24))
}

function playHarbor(day: Day): void {
  const boom = openAndCut(
    day,
    { site: 'harbor', area: 'boom', rig: '7', operator: 'arlo', watch: 'gil' },
    -401,
    -83,
    200,
  )
  endWork(day, boom, -83)
  rounds(day, boom, [-73, -63, -53, -43, -33, -23])
  const leg = openAndCut(
    day,
    { site: 'harbor', area: 'leg-west', rig: '6', operator: 'nell', watch: 'wes' },
    -380,
    -20,
    272,
  )
  testGas(leg, day.at(-5))
}

function playViaduct(day: Day): void {
  const { at } = day
  const bearings = openAndCut(
    day,
    {
      site: 'viaduct',
      area: 'span-3',
      rig: '9',
      operator: 'cal',
      watch: 'ivo',
      monitoringMin: 120,
    },
    -440,
    -108,
    120,
  )
  endWork(day, bearings, -108)
  rounds(day, bearings, [-98, -88, -78, -68, -58, -48])
  const flange = openAndCut(
    day,
    { site: 'viaduct', area: 'span-4', rig: '8', operator: 'tom', watch: 'lena' },
    -245,
    -25,
    92,
  )
  testGas(flange, at(-11))
  const next = castToday(
    day,
    { site: 'viaduct', area: 'span-5', rig: '9', operator: 'cal', watch: 'ivo' },
    at(-60),
  )
  prepare(next, at(-60), { fromMs: at(107), untilMs: at(330) })
  answer(next, at(-26), 1)
  testGas(next, at(-16))
  clear(next, at(-15))
}

function playDam(day: Day): void {
  const { world, at } = day
  const gate = openAndCut(
    day,
    { site: 'dam', area: 'gate-3', rig: '10', operator: 'kit', watch: 'odell' },
    -360,
    -18,
    190,
  )
  writePermitEvent(world.scribe, gate.sheet, as(gate, 'watch', at(-18)), 'held', {
    data: { stop: true },
  })
  writePermitEvent(world.scribe, gate.sheet, as(gate, 'foreman', at(-17)), 'stopped', {
    data: { reason: 'Water came down the gallery stair' },
  })
  rounds(day, gate, [-8])
  world.planted.push({ kind: 'stop', atMs: at(-18), subjectId: gate.sheet.id })
}

function playDepot(day: Day): void {
  const trusses = openAndCut(
    day,
    { site: 'depot', area: 'bay-2', rig: '11', operator: 'dev', watch: 'rhea' },
    -430,
    -214,
    60,
  )
  endWork(day, trusses, -214)
  rounds(day, trusses, [-204, -194, -184, -174, -164, -154])
  closeAt(trusses, day.at(-146))
}

/** The day as it stands at this minute, whatever the hour: every state there is, somewhere. */
export function playToday(world: World, state: HistoryState): void {
  const day: Day = { world, state, at: (minutes) => world.nowMs + minutes * MIN }
  planAhead(world, state)
  playMill(day)
  playHarbor(day)
  playViaduct(day)
  playDam(day)
  playDepot(day)
  workInShop(world, day.at(-215))
  placeOrder(world, {
    site: 'viaduct',
    supplier: 'marrowby',
    lines: [
      { size: 'oxygen-244', quantity: 6 },
      { size: 'acetylene-225', quantity: 2 },
    ],
    atMs: day.at(-190),
    day: localDay(siteOf('viaduct').zone, world.nowMs),
    number: nextOrderNumber(state),
  })
  keepGear(day)
}
