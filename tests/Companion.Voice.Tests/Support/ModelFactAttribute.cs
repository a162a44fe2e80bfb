namespace Companion.Voice.Tests.Support;

/// <summary>A fact about the trained network; without assets/ear/ear.onnx it is skipped, which shows in the count.</summary>
public sealed class ModelFactAttribute : FactAttribute
{
    public ModelFactAttribute()
    {
        if (!File.Exists(Path.Combine(Assets.Ear, "ear.onnx")))
        {
            Skip = "assets/ear/ear.onnx is not there.";
        }
    }
}
