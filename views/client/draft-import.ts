/** With script a file can be chosen instead of pasted: its text goes into the field, where it can still be read. */
const form = document.querySelector<HTMLFormElement>('form[data-draft-import]')
const area = form?.querySelector<HTMLTextAreaElement>('textarea[name="document"]')
if (form && area) offerFile(area)

/** What the server takes in one form, less what encoding adds. */
const MOST_BYTES = 1_500_000

function offerFile(area: HTMLTextAreaElement): void {
  const field = document.createElement('div')
  field.className = 'field'
  const label = document.createElement('label')
  label.htmlFor = 'f-file'
  label.textContent = 'Choose a file'
  const input = document.createElement('input')
  Object.assign(input, {
    id: 'f-file',
    type: 'file',
    accept: '.json,.txt,.csv,.tsv,application/json,text/plain,text/csv',
  })
  const said = document.createElement('p')
  said.className = 'hint'
  said.setAttribute('role', 'status')
  field.append(label, input, said)
  area.closest('.field')?.before(field)
  input.addEventListener('change', () => void takeFile(input.files?.[0], area, said))
}

async function takeFile(file: File | undefined, area: HTMLTextAreaElement, said: HTMLElement): Promise<void> {
  if (!file) return
  if (file.size > MOST_BYTES) {
    said.textContent = `${file.name} has ${(file.size / 1e6).toFixed(1)} MB; at most ${MOST_BYTES / 1e6} MB are read.`
    return
  }
  try {
    area.value = await file.text()
    said.textContent = `${file.name} is in the field below; nothing is kept yet.`
  } catch {
    said.textContent = `${file.name} could not be read.`
  }
}
