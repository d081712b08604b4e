export const FLEET_COLUMNS = [
  'serial',
  'gas',
  'size',
  'spec',
  'ownership',
  'supplier',
  'status',
  'tare',
  'made',
  'tested',
  'due',
  'filled',
  'area',
] as const
export type FleetColumn = (typeof FLEET_COLUMNS)[number]

/** What spreadsheets call them. Common practice, no source. */
const NAMES: Readonly<Record<FleetColumn, readonly string[]>> = {
  serial: [
    'serial',
    'serialno',
    'serialnumber',
    'cylinder',
    'cylinderno',
    'cylno',
    'bottle',
    'bottleno',
    'sn',
    'barcode',
    'assetid',
  ],
  gas: ['gas', 'product', 'contents', 'gastype', 'material'],
  size: ['size', 'cylindersize', 'volume', 'capacity', 'nominal'],
  spec: ['spec', 'specification', 'dotspec', 'dot', 'type'],
  ownership: ['ownership', 'owner', 'owned', 'ownedrented', 'rental'],
  supplier: ['supplier', 'vendor', 'gassupplier', 'rentedfrom'],
  status: ['status', 'state', 'fullempty', 'condition'],
  tare: ['tare', 'tareweight', 'tw', 'emptyweight'],
  made: ['made', 'manufactured', 'mfgdate', 'dom', 'manufacturedate', 'born'],
  tested: ['tested', 'testdate', 'lasttest', 'hydro', 'hydrodate', 'requalified', 'lasthydro'],
  due: ['due', 'testdue', 'hydrodue', 'nexttest', 'requaldue', 'duedate', 'retest'],
  filled: ['filled', 'filldate', 'filledon', 'lastfill'],
  area: ['area', 'location', 'where', 'bay', 'place'],
}

export type Heading = Readonly<{ column: FleetColumn; index: number; unit: 'lb' | 'kg' | null }>

/** Which column is which; what no name fits is left out. `unit` is what a heading like "Tare (kg)" says. */
export function headingsOf(cells: readonly string[]): Heading[] {
  const found: Heading[] = []
  cells.forEach((cell, index) => {
    const unit = /\b(?:lbs?|pounds?)\b/i.test(cell) ? 'lb' : /\bkg\b/i.test(cell) ? 'kg' : null
    const name = cell
      .replace(/^\uFEFF/, '')
      .replace(/\(.*?\)|\b(?:lbs?|kg)\b/gi, '')
      .toLowerCase()
      .replaceAll(/[^a-z]/g, '')
    const column = FLEET_COLUMNS.find((one) => NAMES[one].includes(name))
    if (column && !found.some((one) => one.column === column)) found.push({ column, index, unit })
  })
  return found
}
