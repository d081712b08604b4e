import type { ClearanceItem } from '@/lib/data/permits/clearance-view'

/** One box an item: filled when answered, framed where the walk is now. Never a bar that grows. */
export function Ticks({
  items,
  openId,
}: Readonly<{ items: readonly ClearanceItem[]; openId: string | null }>) {
  return (
    <div className="flex gap-[3px] px-4 pb-2 desk:max-w-[480px] desk:px-0" aria-hidden="true">
      {items.map((item) => (
        <i
          key={item.id}
          className={`h-3 flex-1 border-[1.5px] ${item.id === openId ? 'border-2 border-ink' : item.answer ? 'border-bar bg-bar' : 'border-edge'} ${item.answer && item.id === openId ? 'bg-bar' : ''}`}
        />
      ))}
    </div>
  )
}
