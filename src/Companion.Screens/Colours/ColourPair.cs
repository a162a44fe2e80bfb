namespace Companion.Screens.Colours;

/// <summary>A surface and the text on it.</summary>
/// <param name="Name">What it is used for; the stylesheet knows it as "--NAME" and "--NAME-text".</param>
/// <param name="Surface">"#RRGGBB".</param>
/// <param name="Text">"#RRGGBB".</param>
public sealed record ColourPair(string Name, string Surface, string Text);
