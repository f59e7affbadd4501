/** HTML as a person would write it: Handlebars spells the sign "=" as an entity. */
export const readable = (html: string) => html.replaceAll('&#x3D;', '=')
