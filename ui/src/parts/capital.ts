// A sentence that stands by itself begins with a capital letter, whatever list it came from.
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
