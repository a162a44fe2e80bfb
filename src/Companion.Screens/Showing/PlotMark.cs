namespace Companion.Screens.Showing;

/// <summary>A place on a drawing, in hundredths of its width and height from the top left corner, with a label where it has one.</summary>
/// <param name="X">From the left.</param>
/// <param name="Y">From the top.</param>
/// <param name="Label">The words beside it; empty for none.</param>
public readonly record struct PlotMark(double X, double Y, string Label = "");
