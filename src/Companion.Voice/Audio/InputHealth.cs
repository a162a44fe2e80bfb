namespace Companion.Voice.Audio;

/// <summary>
/// Watches what the microphone gives, frame by frame, for a dead, stuck, faint, lopsided or overdriven input, which a person would otherwise
/// notice only when nothing answers. One thread.
/// </summary>
public sealed class InputHealth
{
    /// <summary>So long must a fault last to be believed; with one frame's reading it stays under the 2 s a technician may wait.</summary>
    public static readonly TimeSpan FaultAfter = TimeSpan.FromSeconds(1.2);

    /// <summary>So long must an overdriven input be clean again.</summary>
    public static readonly TimeSpan CleanAfter = TimeSpan.FromSeconds(1);

    private const float FullScale = 0.985f;
    private const float OverdrivenShare = 0.15f;

    // A mean of a frame this far from zero for longer than any gust of wind is no sound.
    private const float OffCentre = 0.1f;

    // Two steps of 16 bits. The quietest room through a working microphone gives more.
    private const float Faint = 2 / 32768f;

    // A faint input counts as sound again from here, lest it come and go with every word.
    private const float FaintNoMore = 8 / 32768f;

    // A signal that ends within a frame leaves a faint one before the flat ones: that is no faint input.
    private static readonly TimeSpan OneFrame = AudioFormat.Length(AudioFormat.FrameSamples);

    private const string Meanwhile = "answer by button or screen meanwhile.";

    private readonly Repetition repetition = new();
    private TimeSpan flat;
    private TimeSpan repeated;
    private TimeSpan offCentre;
    private TimeSpan faint;
    private TimeSpan overdriven;
    private TimeSpan clean;
    private bool isOverdriven;
    private float last = float.NaN;

    /// <summary>What is wrong, with advice; null when the input is sound.</summary>
    public string? Fault { get; private set; }

    /// <summary>True when the last frame was such that a fault may be beginning.</summary>
    public bool IsSuspect => flat + repeated + offCentre + faint + overdriven > TimeSpan.Zero;

    /// <summary>Takes one frame. True when <see cref="Fault"/> changed.</summary>
    public bool Take(ReadOnlySpan<float> frame)
    {
        var before = Fault;
        var length = AudioFormat.Length(frame.Length);
        var level = FrameLevel.Of(frame, FullScale);
        var constant = IsConstant(frame);
        flat = Longer(flat, constant, length);
        repeated = Longer(repeated, repetition.Take(frame), length);
        offCentre = Longer(offCentre, MathF.Abs(level.Mean) > OffCentre, length);
        faint = Longer(faint, level.Peak <= (faint >= FaultAfter ? FaintNoMore : Faint), length);
        Drive(!constant && level.ShareAtFullScale > OverdrivenShare, constant, length);
        Fault = Name();
        return Fault != before;
    }

    /// <summary>Forgets what was seen: the device was opened anew.</summary>
    public void Reset()
    {
        flat = repeated = offCentre = faint = overdriven = clean = TimeSpan.Zero;
        repetition.Reset();
        isOverdriven = false;
        last = float.NaN;
        Fault = null;
    }

    private static TimeSpan Longer(TimeSpan lasted, bool still, TimeSpan length) => still ? lasted + length : TimeSpan.Zero;

    // Speech through an overdriven input is clean between the words: bad and good time are weighed against each other.
    private void Drive(bool clipped, bool constant, TimeSpan length)
    {
        overdriven = clipped ? overdriven + length : overdriven - length;
        clean = clipped || constant ? TimeSpan.Zero : clean + length;
        if (overdriven < TimeSpan.Zero || clean >= CleanAfter)
        {
            overdriven = TimeSpan.Zero;
        }

        overdriven = overdriven > FaultAfter ? FaultAfter : overdriven;
        isOverdriven = overdriven == FaultAfter || (isOverdriven && overdriven > TimeSpan.Zero);
    }

    private string? Name() =>
        flat >= FaultAfter && last == 0 ? $"The microphone gives no signal at all. Check its plug and its mute switch; {Meanwhile}"
        : flat >= FaultAfter ? $"The microphone is stuck on one value. Unplug it and plug it in again; {Meanwhile}"
        : repeated >= FaultAfter ? $"The microphone is stuck and repeats itself. Unplug it and plug it in again; {Meanwhile}"
        : offCentre >= FaultAfter ? $"The microphone's signal is pushed to one side. Dry its plug and plug it in again; {Meanwhile}"
        : faint >= FaultAfter && faint - flat > OneFrame ? $"The microphone is far too quiet. Turn its level up and check its plug; {Meanwhile}"
        : isOverdriven ? $"The microphone is overdriven. Shield it from the wind or move it from your mouth; {Meanwhile}"
        : null;

    private bool IsConstant(ReadOnlySpan<float> frame)
    {
        var first = frame[0];
        var constant = float.IsNaN(last) || first == last;
        last = frame[^1];
        return constant && frame.IndexOfAnyExcept(first) < 0;
    }
}
