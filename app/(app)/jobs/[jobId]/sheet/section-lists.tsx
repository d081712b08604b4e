import { memo } from 'react'
import { sectionNames } from '@/lib/calc/sections/named-section'
import { CUT_SHAPES, SHAPES } from '@/lib/schemas/cut-shapes'
import { sectionListId } from './cell'

/** Names of sections by family, for the boxes that are typed into. */
export const SectionLists = memo(function SectionLists() {
  return CUT_SHAPES.map((shape) => {
    const { family } = SHAPES[shape]
    return family ? (
      <datalist key={shape} id={sectionListId(shape)}>
        {sectionNames(family).map((name) => (
          <option key={name} value={name} />
        ))}
      </datalist>
    ) : null
  })
})
