import { isSecretField } from '@/lib/action-result'

export interface Kept {
  /** One key a filling-in: the server stores one record for it however often it arrives. */
  readonly clientKey: string
  /** The device's clock at the first sending of this key; a repeat says the same. */
  readonly sentAt: string | null
  readonly values: Readonly<Record<string, readonly string[]>>
}

const storageKey = (formId: string) => `kerfwatch-form-${formId}`

function isKept(value: unknown): value is Kept {
  return (
    typeof value === 'object' &&
    value !== null &&
    'clientKey' in value &&
    'sentAt' in value &&
    'values' in value
  )
}

/** What was typed before a reload; null when nothing was, or storage is closed to us. */
export function readKept(formId: string): Kept | null {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(storageKey(formId)) ?? 'null')
    return isKept(kept) ? kept : null
  } catch {
    return null
  }
}

export function writeKept(formId: string, kept: Kept | null): void {
  try {
    if (kept) sessionStorage.setItem(storageKey(formId), JSON.stringify(kept))
    else sessionStorage.removeItem(storageKey(formId))
  } catch {
    // A full or closed storage only costs the typed text on a reload.
  }
}

/** The typed text of a form by field; PINs, passwords and files are never kept. */
export function valuesOf(formData: FormData): Record<string, string[]> {
  const values: Record<string, string[]> = {}
  for (const [name, value] of formData) {
    if (typeof value !== 'string' || name.startsWith('$ACTION') || isSecretField(name)) continue
    values[name] = [...(values[name] ?? []), value]
  }
  return values
}

type Control = HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement

/** Sets a control the way a person would, so that React hears of it. */
function setControl(control: Control, value: string) {
  const prototype = Object.getPrototypeOf(control)
  Object.getOwnPropertyDescriptor(prototype, 'value')?.set?.call(control, value)
  control.dispatchEvent(
    new Event(control instanceof HTMLSelectElement ? 'change' : 'input', { bubbles: true }),
  )
}

/** Puts kept text back into a form's controls. */
export function restoreInto(form: HTMLFormElement, values: Kept['values']): void {
  const seen: Record<string, number> = {}
  for (const control of form.elements) {
    const isControl =
      control instanceof HTMLInputElement ||
      control instanceof HTMLTextAreaElement ||
      control instanceof HTMLSelectElement
    if (!isControl || control.type === 'file' || isSecretField(control.name)) continue
    const kept = values[control.name]
    if (
      control instanceof HTMLInputElement &&
      (control.type === 'radio' || control.type === 'checkbox')
    ) {
      const isOn = kept?.includes(control.value) ?? false
      if (control.checked !== isOn && (isOn || control.type === 'checkbox')) control.click()
      continue
    }
    const index = seen[control.name] ?? 0
    seen[control.name] = index + 1
    const value = kept?.[index]
    if (
      value !== undefined &&
      value !== control.value &&
      !(control instanceof HTMLInputElement && control.type === 'hidden')
    ) {
      setControl(control, value)
    }
  }
}

/** A PIN that was tried is typed anew, whatever it was refused for; the rest of the form stays. */
export function clearPins(form: HTMLFormElement): void {
  for (const control of form.elements) {
    const isPin = control instanceof HTMLInputElement && control.type === 'password'
    if (isPin && /pin/i.test(control.name)) control.value = ''
  }
}
