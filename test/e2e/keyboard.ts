import type { Locator, Page } from '@playwright/test'
import { expect } from './fixtures'

/** More stops than any page has: a thing that these don't reach can't be reached. */
const MOST_STOPS = 160

const isFocused = (target: Locator) =>
  target.evaluate((element) => element === document.activeElement)

/** Goes to it by Tab alone, as somebody without a mouse does. */
export async function reach(page: Page, target: Locator): Promise<void> {
  await expect(target).toBeEnabled()
  for (let stops = 0; stops < MOST_STOPS; stops += 1) {
    if (await isFocused(target)) return
    await page.keyboard.press('Tab')
  }
  await expect(target, 'is reached by Tab').toBeFocused()
}

export async function pressOn(page: Page, target: Locator, key = 'Enter'): Promise<void> {
  await reach(page, target)
  await page.keyboard.press(key)
}

export async function typeInto(page: Page, target: Locator, text: string): Promise<void> {
  await reach(page, target)
  await page.keyboard.press('ControlOrMeta+A')
  await page.keyboard.type(text)
}

export async function tick(page: Page, target: Locator): Promise<void> {
  await pressOn(page, target, 'Space')
  await expect(target).toBeChecked()
}

/** Tab stops once at a group of radios; the arrows choose in it. */
export async function chooseRadio(page: Page, target: Locator): Promise<void> {
  await expect(target).toBeEnabled()
  const isInGroup = () =>
    target.evaluate((radio) => {
      const at = document.activeElement
      const isRadio = at instanceof HTMLInputElement && radio instanceof HTMLInputElement
      return isRadio && at.type === 'radio' && at.name === radio.name && at.form === radio.form
    })
  for (let stops = 0; stops < MOST_STOPS && !(await isInGroup()); stops += 1)
    await page.keyboard.press('Tab')
  await page.keyboard.press('Space')
  for (let stops = 0; stops < MOST_STOPS && !(await target.isChecked()); stops += 1)
    await page.keyboard.press('ArrowDown')
  await expect(target).toBeChecked()
}

/** A closed list goes through its choices by the arrows. */
export async function chooseOption(page: Page, target: Locator, value: string): Promise<void> {
  await reach(page, target)
  for (let stops = 0; stops < MOST_STOPS && (await target.inputValue()) !== value; stops += 1)
    await page.keyboard.press('ArrowDown')
  await expect(target).toHaveValue(value)
}
