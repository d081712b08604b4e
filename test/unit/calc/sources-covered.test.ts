import { readFileSync } from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'

/*
 * Everything that the published sources carry, and the test that covers it: the file, and words that stand in it.
 * A print that is wrong is held to be flagged there, and stands under PRINTED_WRONG as well.
 */
type Covered = readonly [what: string, file: string, words: string]

const EXAMPLES: readonly Covered[] = [
  ['Manly 1916, cost of a foot of cut, 1/4 to 6 in', 'gas-work', 'to the printed tenth of a cent'],
  ['Manly 1916, flows of half an inch', 'gas-work', 'half an inch takes 68.25 and 11.25'],
  ['newspaper of about 1910, oxyhydrogen', 'gas-work', 'newspaper figure of 1910'],
  ['costing text, welding of 8 mm plate', 'gas-work', 'gas welding by a printed example'],
  ['Manly 1916, contents of 100 ft³ by gauge', 'contents', 'content_vs_gauge_printed_1916'],
  ['Manly 1916, contents of 250 ft³ by gauge', 'gas-contents', 'the print says %d ft³ of 250'],
  ['Manly 1916, gauge by temperature', 'gas-contents', 'the print of 1916 says'],
  ['Campbell 1919, figure 19', 'gas-contents', 'all 101 values of the 1919 figure'],
  ['244 ft³ add about 20 lb', 'contents', 'a full 244 ft³ cylinder holds about 20 lb'],
  ['Manly 1916, weight of 100 ft³', 'gas-contents', '100 ft³ of oxygen weigh 8.921 lb'],
  ['acetylene by weight at three bases', 'gas-contents', 'acetylene by weight, %s'],
  ['29 CFR 1910.110, LP-gas in 100 gal', 'gas-contents', 'the regulation’s example'],
  ['20-lb propane cylinder', 'gas-contents', 'a 20-lb cylinder holds 20 lb'],
  ['cooled cylinder of 14 MPa', 'gas-contents', 'a cooled cylinder of 14 MPa'],
  ['hydrogen tank of 180 L', 'gas-contents', '2520 mol in 180 L'],
  ['dissolved acetylene by temperature', 'gas-contents', 'dissolved acetylene, mixture %s'],
  ['14 L cylinder at 2.1 L/min', 'gas-work', '1907 L at 2.1 L/min last 908 minutes'],
  ['scuba tank', 'gas-contents', 'a scuba tank delivers 667 L'],
  ['Manly 1916, gas of a shift', 'gas-work', '60 ft³/h for 5 h'],
  ['a seventh of a cylinder an hour', 'withdrawal', 'a seventh of 100 ft³ is 14 ft³/h'],
  ['50 ft³/h and the manifold', 'withdrawal', 'a draw of %d ft³/h under the 50 ft³/h rule'],
  ['oxygen for 9340 L of acetylene', 'gas-work', 'four tanks'],
  ['oxygen for 2.7 L of propane', 'gas-work', '2.7 L of propane burn with 13.5 L'],
  ['655 g of methane', 'gas-contents', '655 g of methane take 1018 L'],
  ['heat of the inner flame', 'gas-work', 'the inner flame of acetylene gives 509'],
  ['heat density of a flame', 'gas-work', 'puts 10.8 W/mm² on its spot'],
  ['oxygen for a pound of iron', 'cutting-prints', 'a pound of iron burnt to magnetite'],
]

const GASES: readonly Covered[] = [
  ['oxygen as a real gas, 154 points', 'contents', 'meets all 154 published densities to 0.1 %'],
  ['compressibility of oxygen', 'real-gas', 'oxygen meets 154 published compressibilities'],
  ['nitrogen and argon, from memory', 'real-gas', '%s meets 154 densities to 0.1 %%'],
  [
    'acetylene, vapour pressure of the liquid',
    'gas-contents',
    'liquid acetylene would read far above',
  ],
  ['iron burnt to FeO', 'estimate', 'burning a mm² of kerf over a metre to FeO'],
  ['densities by base', 'gas-contents', '%s at %s weighs %d kg/m³'],
  ['heats of burning', 'gas-work', 'a handbook’s %d Btu/ft³'],
  ['oxygen ratios of the fuels', 'gas-work', '%s takes %d volumes and less from the torch'],
]

const CYLINDERS: readonly Covered[] = [
  ['water volume from capacity', 'contents', 'water_volume_from_capacity'],
  ['244 ft³ by gauge at 70 °F', 'contents', 'content_vs_gauge_244ft3_70F'],
  ['2200 psig by temperature', 'gas-contents', 'pressure_vs_temperature_2200_at_70F'],
  ['filling above the mark', 'gas-contents', 'marked %d with a plus'],
  ['acetylene, model of a full cylinder', 'contents', 'model_full_250_psig_at_70F'],
  ['filling density of LP-gas', 'gas-contents', 'filling_density_table'],
  ['propane, saturation', 'gas-contents', 'propane_saturation'],
  ['100-lb cylinder, vapour by air and fill', 'withdrawal', '%d lb at %d °F gives %d Btu/h'],
  ['vapour formula at 0 °F', 'withdrawal', 'has K = %d'],
  ['planning rule of propane', 'withdrawal', 'the planning rule'],
  ['draw limits of acetylene', 'withdrawal', '225 ft³ under %s'],
  ['MPS-type gas, 70 lb', 'gas-work', '70 lb of MPS-type gas'],
  ['what may hang on a manifold', 'gas-work', 'at most that many on one manifold indoors'],
]

const CUTTING_TABLES: readonly Covered[] = [
  ['handbook table, from memory', 'estimate', 'every row is given back as it stands'],
  ['Manly 1916', 'estimate', 'oxygen per foot at $thickness_in in lies in the range'],
  ['measured study of 2021', 'estimate', 'what a measured study called too fast'],
  ['pipe norm, ratios', 'cutting-prints', 'propane beside acetylene on pipe'],
  ['sheet metal book', 'cutting-prints', 'lies in the range of the table'],
]

const PRINTED_WRONG: readonly Covered[] = [
  ['1916, 9 in costs 1.316', 'gas-work', 'the 9 in row is a misprint'],
  ['1916, 8 ft³ at 18 psig', 'gas-contents', 'the 8 ft³ printed at 18 psig is a misprint'],
  ['1916, weights of 250 ft³', 'gas-contents', 'the weights printed for 250 ft³ are flagged'],
  ['a store of acetylene, 107.5 volumes', 'gas-contents', 'not the printed 100'],
  ['1916, pressures of an ideal gas', 'contents', 'a closed cylinder of 1800 psig at 68 °F'],
]

const read = (file: string) =>
  readFileSync(path.join(import.meta.dirname, `${file}.published.test.ts`), 'utf8')

describe.each([
  ['worked examples', EXAMPLES, 27],
  ['gases', GASES, 8],
  ['cylinders', CYLINDERS, 13],
  ['cutting tables', CUTTING_TABLES, 5],
  ['prints that are wrong', PRINTED_WRONG, 5],
] as const)('%s', (_source, covered, many) => {
  test('none is left out', () => expect(new Set(covered.map(([what]) => what)).size).toBe(many))
  test.each(covered)('%s: %s', (_what, file, words) => expect(read(file)).toContain(words))
})
