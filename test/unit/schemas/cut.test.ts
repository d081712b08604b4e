import { describe, expect, test } from 'vitest'
import { cutSchema } from '@/lib/schemas/cut'
import { cutDimsSchema, shapeCode } from '@/lib/schemas/cut-dims'

const ID = '0190b0a0-0000-7000-8000-000000000001'
const common = { key: ID, cutListId: ID, material: 'carbon_steel', coating: 'none', count: '3' }
const plate = {
  ...common,
  shape: 'plate',
  thickness: '1',
  thicknessUnit: 'in',
  length: '18',
  lengthUnit: 'ft',
}
const messages = (input: Record<string, string>) =>
  cutSchema.safeParse(input).error?.issues.map((issue) => [issue.path.join('.'), issue.message])

describe('a cut as typed', () => {
  // An inch is 25.4 mm and a foot 304.8 mm, exactly, since 1959.
  test.each([
    ['1', 0.0254],
    ['1 1/2', 0.0381],
    ['3/8', 0.009_525],
    ['.375', 0.009_525],
  ])('of %s in is kept in metres', (thickness, metres) => {
    const { shape } = cutSchema.parse({ ...plate, thickness }).dims
    expect(shape).toMatchObject({ kind: 'plate', lengthM: expect.closeTo(5.4864, 9) })
    expect('thicknessM' in shape && shape.thicknessM).toBeCloseTo(metres, 9)
  })

  test('reads a comma as thousands and never as a decimal', () => {
    const { shape } = cutSchema.parse({ ...plate, length: '1,100.5' }).dims
    expect('lengthM' in shape && shape.lengthM).toBeCloseTo(1100.5 * 0.3048, 9)
    expect(messages({ ...plate, length: '1,5' })).toEqual([['length', 'ENTER_A_NUMBER']])
  })

  test.each([
    [{ thickness: '' }, [['thickness', 'ENTER_A_NUMBER']]],
    [{ thickness: '0' }, [['thickness', 'NOT_POSITIVE']]],
    [{ thickness: '-1' }, [['thickness', 'NOT_POSITIVE']]],
    [{ length: '9999' }, [['length', 'TOO_LARGE']]],
    [{ count: '1.5' }, [['count', 'ENTER_A_WHOLE_NUMBER']]],
    [{ count: '0' }, [['count', 'OUT_OF_RANGE']]],
    [{ bevel: '61' }, [['bevel', 'OUT_OF_RANGE']]],
    [{ coating: '' }, [['coating', 'CHOOSE_ONE']]],
    [{ pieceWeight: '0', pieceWeightUnit: 'lb' }, [['pieceWeight', 'NOT_POSITIVE']]],
  ])('with %j names the box and what is wrong in it', (over, issues) => {
    expect(messages({ ...plate, ...over })).toEqual(issues)
  })

  test('refuses a wall of more than half the pipe', () => {
    const pipe = {
      ...common,
      shape: 'pipe',
      outside: '10',
      outsideUnit: 'in',
      wall: '6',
      wallUnit: 'in',
    }
    expect(messages(pipe)).toEqual([['wall', 'WALL_OVER_HALF']])
    expect(messages({ ...pipe, wall: '5' })).toBeUndefined()
  })

  test.each(['W12x50', 'w12 × 50', 'W12X50'])(
    'knows %s as the section of the table',
    (designation) => {
      const cut = cutSchema.parse({ ...common, shape: 'w_shape', designation })
      expect(cut.dims.shape).toEqual({ kind: 'wShape', designation: 'W12x50' })
      expect(shapeCode(cut.dims)).toBe('w_shape')
    },
  )

  test('leaves what is empty out of what is kept, and what it keeps reads back the same', () => {
    const { dims } = cutSchema.parse({ ...plate, bevel: '', pieceArea: '', pieceWeight: '' })
    expect(dims).toEqual({ shape: expect.objectContaining({ kind: 'plate' }) })
    expect(cutDimsSchema.parse(JSON.parse(JSON.stringify(dims)))).toEqual(dims)
  })
})
