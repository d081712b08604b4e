import { SelectField } from '../form/text-field'

type AreaChoiceProps = Readonly<{
  label: string
  noneLabel: string
  areas: readonly Readonly<{ id: string; name: string }>[]
  onChosen: (areaId: string) => void
}>

/** Where the cylinders that are scanned next stand. A site without areas is not asked. */
export function AreaChoice({ label, noneLabel, areas, onChosen }: AreaChoiceProps) {
  if (areas.length === 0) return null
  return (
    <SelectField
      name="scanArea"
      label={label}
      emptyLabel={noneLabel}
      options={areas.map((area) => ({ value: area.id, label: area.name }))}
      onChosen={onChosen}
    />
  )
}
