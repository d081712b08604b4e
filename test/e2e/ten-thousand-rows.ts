import type { Page } from '@playwright/test'
import { expect } from '@playwright/test'

const ROWS = 10_000
export const KEYS = 21

/** Pastes as a browser does: with the clipboard's text in the event. */
export const pasteRows = (page: Page, text: string) =>
  page.getByRole('textbox', { name: /^Name, row 1$/ }).evaluate((cell, pasted) => {
    const clipboardData = new DataTransfer()
    clipboardData.setData('text/plain', pasted)
    cell.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }),
    )
  }, text)

/** Adds 10,000 rows to the sheet that stands open, then types into one: ms from each key to the new total. */
export async function typeAmongRows(page: Page): Promise<number[]> {
  const rows = Array.from(
    { length: ROWS },
    (_, at) =>
      `Plate ${at}\tplate\t\t${(at % 12) / 8 + 0.25}\t\t${(at % 30) + 1}\t${(at % 9) + 1}\tcarbon steel`,
  )
  await pasteRows(page, rows.join('\n'))
  await page.getByRole('button', { name: 'Add 10,000 rows' }).click()
  await expect(page.getByText('10,0', { exact: false }).first()).toBeVisible()
  const cell = page.getByRole('textbox', { name: 'Cuts, row 1', exact: true })
  await cell.focus()
  return cell.evaluate(keyToTotals, KEYS)
}

/** In the browser: how long each key takes until the page shows the new total. */
async function keyToTotals(cell: Element, keys: number): Promise<number[]> {
  const total = document.querySelector('.sheet-totals .opening-number')
  const setValue = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')?.set
  const took: number[] = []
  for (let at = 0; at < keys; at += 1) {
    const before = total?.ariaLabel
    const startMs = performance.now()
    setValue?.call(cell, String(1000 + 450 * at))
    cell.dispatchEvent(new Event('input', { bubbles: true }))
    while (total?.ariaLabel === before && performance.now() - startMs < 5_000)
      await Promise.resolve()
    took.push(performance.now() - startMs)
    await new Promise((resolve) => setTimeout(resolve, 30))
  }
  return took
}
