// Member name to text and salt: the shape in which personal texts travel through the whole project.
global using SealedTexts = System.Collections.Generic.IReadOnlyDictionary<string, Companion.Contracts.SealedText>;
