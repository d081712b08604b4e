/** A box to tick, 48 high on a phone. */
export function PlainTick({
  name,
  label,
  isTicked = false,
}: Readonly<{ name: string; label: string; isTicked?: boolean }>) {
  return (
    <label className="flex min-h-12 items-center gap-3 text-[16px] leading-[22px] desk:min-h-8 desk:text-[14px]">
      <input
        type="checkbox"
        name={name}
        value="yes"
        defaultChecked={isTicked}
        className="size-6 accent-[var(--act)] desk:size-[18px]"
      />
      {label}
    </label>
  )
}
