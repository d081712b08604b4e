import 'server-only'
import { AppError, httpStatus } from '@/lib/errors'
import { workbookOf } from '@/lib/format/workbook'
import { csvCell } from '@/lib/schemas/csv-text'

type Cell = string | number | null
export type ListFile = Readonly<{
  name: string
  head: readonly string[]
  pages: AsyncIterable<readonly (readonly Cell[])[]>
}>

/** A workbook is made whole before it is sent; a longer list goes as CSV, row by row. */
const MOST_WORKBOOK_ROWS = 20_000

const lines = (rows: readonly (readonly Cell[])[]) =>
  rows.map((row) => `${row.map(csvCell).join(',')}\r\n`).join('')

async function* csvOf({ head, pages }: ListFile): AsyncGenerator<Uint8Array> {
  const letters = new TextEncoder()
  yield letters.encode(lines([head]))
  for await (const page of pages) yield letters.encode(lines(page))
}

/** Asked for piece by piece: a reader that is slow, or gone, holds nothing up and nothing in memory. */
const streamOf = (pieces: AsyncGenerator<Uint8Array>) =>
  new ReadableStream<Uint8Array>({
    pull: async (out) => {
      const { done, value } = await pieces.next()
      if (done) out.close()
      else out.enqueue(value)
    },
    cancel: async () => {
      await pieces.return(undefined)
    },
  })

/** Null where it would be too long. */
async function xlsxOf({ name, head, pages }: ListFile): Promise<Uint8Array<ArrayBuffer> | null> {
  const rows: (readonly Cell[])[] = []
  for await (const page of pages) {
    rows.push(...page)
    if (rows.length > MOST_WORKBOOK_ROWS) return null
  }
  return new Uint8Array(await workbookOf([{ name, head, rows }]))
}

/** The same list as CSV, at an address of the same server. */
function asCsv(address: string): Response {
  const { pathname, searchParams } = new URL(address)
  searchParams.set('as', 'csv')
  return new Response(null, { status: 303, headers: { location: `${pathname}?${searchParams}` } })
}

/** A list as the address asks for it: `as=xlsx` a workbook, or CSV where one would be too long; else CSV; or what was refused. */
export async function answerList(
  request: Request,
  open: () => Promise<ListFile>,
): Promise<Response> {
  try {
    const file = await open()
    const isXlsx = new URL(request.url).searchParams.get('as') === 'xlsx'
    const body = isXlsx ? await xlsxOf(file) : streamOf(csvOf(file))
    if (!body) return asCsv(request.url)
    return new Response(body, {
      headers: {
        'content-type': isXlsx
          ? 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet'
          : 'text/csv; charset=utf-8',
        'content-disposition': `attachment; filename="${file.name}.${isXlsx ? 'xlsx' : 'csv'}"`,
        'cache-control': 'no-store',
      },
    })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return Response.json({ ok: false, code: error.code }, { status: httpStatus(error) })
  }
}
