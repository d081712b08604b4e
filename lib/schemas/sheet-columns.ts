/** The columns of the estimate sheet, in the order in which a row without a head is read. */
export const SHEET_COLUMNS = [
  'title',
  'shape',
  'section',
  'thickness',
  'width',
  'length',
  'count',
  'material',
  'coating',
  'position',
  'bevel',
  'conditions',
  'piece',
  'weight',
  'task',
  'along',
  'into',
  'part',
  'miter',
  'stack',
  'restarts',
  'ownOxygen',
  'ownFuel',
  'ownRate',
  'note',
] as const
export type SheetColumn = (typeof SHEET_COLUMNS)[number]

/** Columns that few cuts need: in sight once one of them is used. */
export const SELDOM_COLUMNS: ReadonlySet<SheetColumn> = new Set([
  'task',
  'along',
  'into',
  'part',
  'miter',
  'stack',
  'restarts',
  'ownOxygen',
  'ownFuel',
  'ownRate',
])
export const USUAL_COLUMNS = SHEET_COLUMNS.filter((column) => !SELDOM_COLUMNS.has(column))

/** One row as typed: text by column. An absent cell is an empty one. */
export type SheetCells = Readonly<Partial<Record<SheetColumn, string>>>

/** What people write over a column. Common practice, no source. */
const HEADS: Readonly<Record<SheetColumn, readonly string[]>> = {
  title: ['name', 'cut', 'what', 'title', 'description', 'mark', 'piece mark', 'item', 'member'],
  shape: ['shape', 'type', 'profile', 'kind', 'form'],
  section: ['section', 'size', 'designation', 'shape size', 'section size'],
  thickness: [
    'thickness',
    'thick',
    'thk',
    't',
    'wall',
    'wall thickness',
    'depth',
    'thickness or wall',
  ],
  width: ['width', 'w', 'side', 'diameter', 'dia', 'od', 'outside', 'shank', 'width or diameter'],
  length: ['length', 'len', 'l', 'cut length', 'length of cut', 'length of one cut', 'area'],
  count: ['count', 'cuts', 'qty', 'quantity', 'pcs', 'pieces', 'no', 'number', 'how many', 'ea'],
  material: ['metal', 'material', 'mat', 'grade', 'steel'],
  coating: ['coating', 'on it', 'paint', 'surface', 'finish', 'what is on it'],
  position: ['position', 'pos'],
  bevel: ['bevel', 'angle', 'bevel deg', 'bevel degrees'],
  conditions: ['conditions', 'condition', 'how it is'],
  piece: ['piece', 'piece length', 'piece area', 'piece size', 'drop', 'piece that comes down'],
  weight: ['weight', 'piece weight', 'wt', 'mass'],
  task: ['task', 'work', 'operation', 'what is done'],
  along: ['along', 'hole', 'hole diameter', 'notch length', 'cope length', 'along the edge'],
  into: ['into', 'land', 'notch depth', 'cope depth', 'into the edge'],
  part: ['part', 'web or flange', 'on'],
  miter: ['miter', 'mitre', 'miter deg', 'miter angle'],
  stack: ['stack', 'stacked', 'plates', 'stack of'],
  restarts: ['restarts', 'broken off'],
  ownOxygen: ['own oxygen', 'oxygen flow', 'cutting oxygen'],
  ownFuel: ['own fuel', 'fuel flow'],
  ownRate: ['own speed', 'speed', 'own rate', 'rate'],
  note: ['note', 'notes', 'remark', 'remarks', 'comment', 'comments'],
}

const COLUMN_OF_HEAD: ReadonlyMap<string, SheetColumn> = new Map(
  SHEET_COLUMNS.flatMap((column) => HEADS[column].map((head) => [head, column] as const)),
)

/** What stands over a pasted column: which of ours it is, and the unit that it names in brackets or after a comma. */
export function readHead(text: string): { column: SheetColumn | null; unit: string } {
  const parts = /^([^(,[]*)(?:[(,[]\s*([^)\]]*?)\s*[)\]]?)?\s*$/.exec(text.trim().toLowerCase())
  const name = (parts?.[1] ?? text)
    .trim()
    .replace(/[.:#_]+/g, ' ')
    .replace(/\s+/g, ' ')
    .trim()
  return { column: COLUMN_OF_HEAD.get(name) ?? null, unit: parts?.[2] ?? '' }
}
