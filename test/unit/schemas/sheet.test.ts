import { describe, expect, test } from 'vitest'
import { readPasted, splitPasted } from '@/lib/schemas/sheet-paste'
import { readSheetRow } from '@/lib/schemas/sheet-row'
import { saveSheetSchema } from '@/lib/schemas/sheet-save'

const plate = {
  shape: 'plate',
  thickness: '1',
  length: '18',
  count: '6',
  material: 'carbon_steel',
}
const problems = (cells: Record<string, string>) => {
  const read = readSheetRow(cells, 'us')
  return read.ok ? [] : read.problems.map(({ column, code }) => [column, code])
}

describe('a row of the sheet', () => {
  // An inch is 25.4 mm and a foot 304.8 mm, exactly, since 1959.
  test.each([
    ['1', 0.0254],
    ['1 1/2"', 0.0381],
    ['25.4 mm', 0.0254],
    ['3/8 in.', 0.009_525],
  ])('%s of thickness is kept in metres', (thickness, metres) => {
    const read = readSheetRow({ ...plate, thickness }, 'us')
    expect(read).toMatchObject({
      ok: true,
      cut: { dims: { shape: { thicknessM: expect.closeTo(metres, 9) } } },
    })
  })

  test.each([
    ['18', 'us', 5.4864],
    ['5\'-6"', 'us', 1.6764],
    ['5\' 6 1/2"', 'us', 1.6891],
    ['2', 'si', 2],
  ] as const)('%s of length, read by who reads %s, is kept in metres', (length, units, metres) => {
    const read = readSheetRow({ ...plate, length }, units)
    expect(read).toMatchObject({
      ok: true,
      cut: { dims: { shape: { lengthM: expect.closeTo(metres, 9) } } },
    })
  })

  test.each([
    [{}, [['shape', 'REQUIRED']]],
    [{ shape: 'blob' }, [['shape', 'UNKNOWN_WORD']]],
    [{ ...plate, thickness: '' }, [['thickness', 'REQUIRED']]],
    [{ ...plate, thickness: 'thick' }, [['thickness', 'ENTER_A_NUMBER']]],
    [{ ...plate, count: '0' }, [['count', 'OUT_OF_RANGE']]],
    [{ ...plate, material: 'unobtainium' }, [['material', 'UNKNOWN_WORD']]],
    [{ ...plate, material: '' }, [['material', 'REQUIRED']]],
    [{ ...plate, coating: 'mud' }, [['coating', 'UNKNOWN_WORD']]],
    [{ ...plate, conditions: 'dirty, haunted' }, [['conditions', 'UNKNOWN_WORD']]],
    [{ ...plate, width: '3' }, [['width', 'NOT_FOR_SHAPE']]],
    [{ ...plate, bevel: '75' }, [['bevel', 'OUT_OF_RANGE']]],
    [{ ...plate, weight: '0' }, [['weight', 'NOT_POSITIVE']]],
    [
      { ...plate, shape: 'pipe', length: '', thickness: '3', width: '4' },
      [['thickness', 'WALL_OVER_HALF']],
    ],
  ])('%j names each cell that has something to put right', (cells, expected) => {
    expect(problems(cells)).toEqual(expected)
  })

  test.each([
    [
      { shape: 'w_shape', section: 'W16x31', task: 'cope', along: '6', into: '2' },
      { task: { kind: 'cope', lengthM: expect.closeTo(0.1524, 9), depthM: 0.0508 } },
    ],
    [{ shape: 'pipe_size', section: '6" sch40' }, { shape: { designation: '6 sch 40' } }],
    [{ shape: 'rebar', section: '6' }, { shape: { kind: 'rebar', designation: '#6' } }],
    [
      { shape: 'angle', section: 'l 2 1/2 × 2 × 1/4', miter: '30', part: 'first leg' },
      { shape: { designation: 'L2-1/2x2x1/4' }, miterDeg: 30, miterOn: 'flange' },
    ],
    [
      {
        shape: 'plate',
        thickness: '1/2',
        length: '4',
        stack: '3',
        conditions: 'cold steel, windy',
      },
      { stackPlates: 3, conditions: ['cold', 'wind'] },
    ],
    [
      { shape: 'flat_bar', thickness: '1', width: '6', task: 'bevel', bevel: '30°', into: '1/8' },
      { task: { kind: 'bevel', angleDeg: 30, landM: 0.003175 } },
    ],
    [
      {
        shape: 'gouge',
        length: '2',
        thickness: '1/4',
        ownOxygen: '200 cfh',
        ownFuel: '20',
        ownRate: '4',
      },
      { shape: { kind: 'gouge', areaM2: expect.closeTo(0.185_806, 6) }, own: expect.anything() },
    ],
    [
      { shape: 'plate', thickness: '1', length: '4', conditions: 'edge start', restarts: '2' },
      { pierced: false, restarts: 2 },
    ],
  ])('%j is read whole', (cells, dims) => {
    const read = readSheetRow({ count: '2', material: 'carbon_steel', ...cells }, 'us')
    expect(read).toMatchObject({ ok: true, cut: { dims } })
  })

  test.each([
    [{ shape: 'rivet_head', width: '7/8', task: 'hole' }, [['task', 'NOT_FOR_SHAPE']]],
    [{ shape: 'angle', section: 'L4x4x3/8', task: 'cope' }, [['task', 'NOT_FOR_SHAPE']]],
    [{ shape: 'plate', thickness: '1', length: '4', miter: '20' }, [['miter', 'NOT_FOR_SHAPE']]],
    [{ shape: 'w_shape', section: 'W12x51' }, [['section', 'UNKNOWN_SECTION']]],
    [{ shape: 'w_shape', section: 'W12x50', stack: '3' }, [['stack', 'NOT_FOR_SHAPE']]],
    [
      { shape: 'w_shape', section: 'W12x50', task: 'cope', along: 'far' },
      [
        ['along', 'ENTER_A_NUMBER'],
        ['into', 'REQUIRED'],
      ],
    ],
    [
      { shape: 'gouge', length: '2', thickness: '1/4', conditions: 'pierced' },
      [['conditions', 'NOT_FOR_SHAPE']],
    ],
    [
      { shape: 'plate', thickness: '1', length: '4', ownOxygen: '100' },
      [
        ['ownFuel', 'REQUIRED'],
        ['ownRate', 'REQUIRED'],
      ],
    ],
  ])('%j names the cell that does not go with its shape', (cells, expected) => {
    expect(problems({ count: '2', material: 'carbon_steel', ...cells })).toEqual(expected)
  })

  test('that says nothing of what is on it counts as not known, never as bare', () => {
    expect(readSheetRow(plate, 'us')).toMatchObject({ ok: true, cut: { coating: 'unknown' } })
  })
})

describe('rows pasted from a spreadsheet', () => {
  test('are read under a head in any order, its units included', () => {
    const text =
      'Qty\tType\tThickness (mm)\tLength, ft\tMaterial\tZone\n6\tPL\t25.4\t18\tMild steel\tB2\n2\tW\t\t\tA36\t\n'
    const pasted = readPasted(text)
    expect(pasted).toMatchObject({ hasHead: true, unknownHeads: ['Zone'], isMetalFilled: false })
    expect(pasted.rows).toEqual([
      {
        count: '6',
        shape: 'plate',
        thickness: '25.4 mm',
        length: '18 ft',
        material: 'carbon_steel',
        note: 'Zone: B2',
      },
      { count: '2', shape: 'w_shape', material: 'carbon_steel' },
    ])
    const [first = {}] = pasted.rows
    expect(readSheetRow(first, 'si')).toMatchObject({
      ok: true,
      cut: {
        count: 6,
        dims: { shape: { thicknessM: 0.0254, lengthM: expect.closeTo(5.4864, 9) } },
      },
    })
  })

  test('without a head are read in the order of the sheet', () => {
    const { rows, hasHead } = readPasted('Stack\tplate\t\t1\t\t18\t6\tcarbon steel')
    expect(hasHead).toBe(false)
    expect(rows).toEqual([{ title: 'Stack', ...plate }])
  })

  test('without a metal are shown with carbon steel filled in', () => {
    const pasted = readPasted('Section\tQty\nW12x50\t24')
    expect(pasted.isMetalFilled).toBe(true)
    expect(pasted.rows).toEqual([
      { section: 'W12x50', count: '24', shape: 'w_shape', material: 'carbon_steel' },
    ])
  })

  test.each([
    ['W12x50', 'w_shape'],
    ['S12x35', 's_shape'],
    ['C10x20', 'channel'],
    ['L4x4x3/8', 'angle'],
    ['HSS6x6x3/8', 'hss'],
    ['#6', 'rebar'],
    ['6 sch 40', 'pipe_size'],
    ['4 XS', 'pipe_size'],
  ])('take %s for what its name says', (section, shape) => {
    expect(readPasted(`Section\tQty\n${section}\t2`).rows[0]).toMatchObject({ shape, section })
  })

  test('take a pipe with a schedule for a pipe by schedule', () => {
    const { rows } = readPasted('Shape\tSection\tQty\nPipe\t6 sch 40\t2')
    expect(rows[0]).toMatchObject({ shape: 'pipe_size', section: '6 sch 40' })
  })

  test('keep quoted cells whole, and inch signs as they are', () => {
    expect(splitPasted('"1/2"""\t"a\nb"\t3/8"\n\t\t\n"\t1')).toEqual([
      ['1/2"', 'a\nb', '3/8"'],
      ['"', '1'],
    ])
  })

  test('lose no cell: two heads of one name, and cells past the head, go into the note', () => {
    const { rows } = readPasted('Qty\tType\tQty\n6\tPlate\t7\tloose')
    expect(rows[0]).toMatchObject({ count: '6', note: 'Qty: 7. loose' })
  })
})

describe('a sheet as it is sent', () => {
  const ID = '0190b0a0-0000-7000-8000-000000000001'
  const send = (changes: object) =>
    saveSheetSchema.safeParse({ key: ID, cutListId: ID, changes: JSON.stringify(changes) })

  test('is read row by row', () => {
    const sent = send({
      units: 'us',
      rows: [{ cells: plate }, { cutId: ID, version: 2, cells: plate }],
      removed: [],
    })
    expect(sent.data?.changes.rows.map((row) => [row.cutId, row.version, row.cut.count])).toEqual([
      [null, null, 6],
      [ID, 2, 6],
    ])
  })

  test('names the row and the cell that it refuses', () => {
    const sent = send({
      units: 'us',
      rows: [{ cells: plate }, { cells: { ...plate, count: 'x' } }],
      removed: [],
    })
    expect(sent.error?.issues.map(({ path, message }) => [path.join('.'), message])).toEqual([
      ['changes.rows.1.count', 'ENTER_A_NUMBER'],
    ])
  })

  test.each(['', '{', '[]', '{"units":"us","rows":[{"cells":{"nope":"1"}}],"removed":[]}'])(
    'of %s is refused',
    (changes) => {
      expect(saveSheetSchema.safeParse({ key: ID, cutListId: ID, changes }).success).toBe(false)
    },
  )
})
