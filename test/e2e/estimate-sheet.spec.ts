import type { Page } from '@playwright/test'
import { expect, test } from './fixtures'
import { visit } from './visit'

const DANA = 'dana.whitlock@ferrowdunn.example'
const SHEET = [
  'Qty\tName\tShape\tThickness (in)\tLength (ft)\tMetal\tZone',
  '6\tStack plate\tPlate\t1\t18\tSteel\tB2',
  '4\tBad plate\tPlate\tthick\t2\tSteel\t',
].join('\n')

/** Pastes as a browser does: with the clipboard's text in the event. */
const paste = (page: Page, text: string) =>
  page.getByRole('textbox', { name: /^Name, row 1$/ }).evaluate((cell, pasted) => {
    const clipboardData = new DataTransfer()
    clipboardData.setData('text/plain', pasted)
    cell.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }),
    )
  }, text)

const oxygen = (page: Page) => page.getByRole('button', { name: /^Oxygen: about/ }).first()
const jobId = async (app: {
  owner: { query: (sql: string) => Promise<{ rows: { id: string }[] }> }
}) => (await app.owner.query("SELECT id FROM jobs WHERE number = '0417'")).rows[0]?.id ?? ''

test.describe('at a desk', () => {
  test.use({ viewport: { width: 1440, height: 900 } })

  test('rows pasted from a spreadsheet are shown before they go in, counted as they are typed, and saved in one act', async ({
    app,
    page,
    signInAs,
    expectAccessible,
  }) => {
    await signInAs(DANA)
    const id = await jobId(app)
    await visit(page, `/jobs/${id}/sheet`)
    const before = await oxygen(page).getAttribute('aria-label')
    await paste(page, SHEET)
    await expect(page.getByText('2 rows read, 1 to put right.')).toBeVisible()
    await expect(page.getByText('No column of ours: Zone.', { exact: false })).toBeVisible()
    await expect(page.getByText('Thickness: “thick” is no number.', { exact: false })).toBeVisible()
    await expectAccessible()
    await page.getByRole('button', { name: 'Add 2 rows' }).click()

    // The whole row counts at once; the faulty one stays, is marked, and keeps the sheet from being saved.
    await expect(oxygen(page)).not.toHaveAttribute('aria-label', before ?? '')
    const refused = page.getByRole('button', { name: '1 row to put right first' })
    await refused.click()
    await expect(page.getByText('“thick” is no number.', { exact: false }).last()).toBeVisible()

    const added = await oxygen(page).getAttribute('aria-label')
    const wrong = page.locator('input[aria-invalid="true"][data-column="thickness"]')
    await wrong.fill('1/2')
    await expect(oxygen(page)).not.toHaveAttribute('aria-label', added ?? '')
    await expectAccessible()
    await page.getByRole('button', { name: 'Save 2 changes' }).click()
    await page.waitForURL(`**/jobs/${id}`)
    await expect(page.getByRole('heading', { name: 'Stack plate, 6 cuts' })).toBeVisible()
    const { rows } = await app.owner.query(
      "SELECT act, count(*)::int AS entries FROM audit_entries WHERE table_name = 'cuts' AND act = 'cut-list:sheet' GROUP BY act",
    )
    expect(rows).toEqual([{ act: 'cut-list:sheet', entries: 2 }])
    const { rows: kept } = await app.owner.query(
      "SELECT note FROM cuts WHERE title = 'Stack plate'",
    )
    expect(kept).toEqual([{ note: 'Zone: B2' }])
  })

  test('the keys go from cell to cell, and Enter on the last row adds one', async ({
    app,
    page,
    signInAs,
  }) => {
    await signInAs(DANA)
    await visit(page, `/jobs/${await jobId(app)}/sheet`)
    const name = (row: number) =>
      page.getByRole('textbox', { name: `Name, row ${row}`, exact: true })
    await name(1).click()
    await page.keyboard.press('ArrowDown')
    await expect(name(2)).toBeFocused()
    const count = await page.locator('input[data-column="title"]').count()
    await name(count).focus()
    await page.keyboard.press('Enter')
    await expect(name(count + 1)).toBeFocused()
    await page.keyboard.type('Gusset')
    await expect(name(count + 1)).toHaveValue('Gusset')
  })

  test('ten thousand rows are counted anew in under 50 ms while someone types', async ({
    app,
    page,
    signInAs,
  }) => {
    test.setTimeout(120_000)
    await signInAs(DANA)
    await visit(page, `/jobs/${await jobId(app)}/sheet`)
    const rows = Array.from(
      { length: 10_000 },
      (_, at) =>
        `Plate ${at}\tplate\t\t${(at % 12) / 8 + 0.25}\t\t${(at % 30) + 1}\t${(at % 9) + 1}\tcarbon steel`,
    )
    await paste(page, rows.join('\n'))
    await page.getByRole('button', { name: 'Add 10,000 rows' }).click()
    await expect(page.getByText('10,0', { exact: false }).first()).toBeVisible()
    const cell = page.getByRole('textbox', { name: 'Cuts, row 1', exact: true })
    await cell.focus()
    const took = await cell.evaluate(keyToTotals)
    // Other tests share the processors: the slower keys time those. A quarter of the keys times the sheet.
    const quarterMs = took.toSorted((a, b) => a - b)[Math.floor(took.length / 4)] ?? Infinity
    const description = took.map((ms) => ms.toFixed(1)).join(' ')
    test.info().annotations.push({ type: 'ms from key to total, 10,000 rows', description })
    expect(took).toHaveLength(21)
    expect(quarterMs, description).toBeLessThan(50)
  })
})

/** In the browser: how long each key takes until the page shows the new total. */
async function keyToTotals(cell: Element): Promise<number[]> {
  const shown = () => document.querySelector('.sheet-totals .opening-number')?.ariaLabel ?? ''
  const setValue = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')?.set
  const took: number[] = []
  for (let at = 0; at < 21; at += 1) {
    const before = shown()
    const startMs = performance.now()
    setValue?.call(cell, String(1000 + 450 * at))
    cell.dispatchEvent(new Event('input', { bubbles: true }))
    while (shown() === before && performance.now() - startMs < 5_000) await Promise.resolve()
    took.push(performance.now() - startMs)
    await new Promise((resolve) => setTimeout(resolve, 30))
  }
  return took
}

test.describe('on a phone', () => {
  test.use({ viewport: { width: 360, height: 780 } })

  test('a row is filled box by box', async ({ app, page, signInAs, expectAccessible }) => {
    await signInAs(DANA)
    await visit(page, `/jobs/${await jobId(app)}/sheet`)
    await page.getByRole('button', { name: 'Add a row' }).click()
    await page.getByLabel(/^Shape, row/).selectOption('plate')
    await page.getByLabel(/^Thickness, row/).fill('3/4')
    await page.getByLabel(/^Length of cut, row/).fill('6')
    await page.getByLabel(/^Cuts, row/).fill('2')
    await expectAccessible()
    await page.getByRole('button', { name: 'All rows' }).click()
    await expect(page.getByRole('button', { name: 'Save 1 change' })).toBeVisible()
  })
})

test('the set-up card says the order, both pressures and oxygen off first, and prints on one page', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  await signInAs(DANA)
  const id = await jobId(app)
  await visit(page, `/jobs/${id}`)
  await page.getByRole('link', { name: 'Set-up card' }).first().click()
  await expect(page.getByRole('heading', { name: 'Oxygen regulator' })).toBeVisible()
  await expect(page.getByRole('heading', { name: 'Acetylene regulator' })).toBeVisible()
  await expect(page.getByText('Oxygen off first.')).toBeVisible()
  await expect(page.getByText('Back both regulator screws out', { exact: false })).toBeVisible()
  await expect(page.getByText(/Shade [345] or darker/)).toBeVisible()
  await expectAccessible()
  for (const format of ['Letter', 'A4'] as const) {
    const pdf = await page.pdf({ format, preferCSSPageSize: false })
    const pages = pdf.toString('latin1').match(/\/Type\s*\/Page[^s]/g) ?? []
    expect(pages, format).toHaveLength(1)
  }
})
