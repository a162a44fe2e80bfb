namespace Companion.Screens.Answering;

/// <summary>What has been typed so far.</summary>
/// <param name="Text">Digits, with a sign or a point where a reading has one.</param>
/// <param name="Below">True for "below" the tester's lowest indication.</param>
public sealed record Entry(string Text, bool Below)
{
    /// <summary>Nothing typed.</summary>
    public static readonly Entry Empty = new(string.Empty, false);

    /// <summary>The key that takes the last character back.</summary>
    public const char Back = '<';

    /// <summary>The key for "below" the tester's lowest indication.</summary>
    public const char BelowKey = 'b';

    /// <summary>True when there is a number.</summary>
    public bool IsComplete => Text.Length > 0 && char.IsAsciiDigit(Text[^1]);

    /// <summary>The entry after one more key; keys that make no sense here change nothing.</summary>
    public Entry With(char key, NumberNeed need) => key switch
    {
        Back => Below || Text.Length == 0 ? Empty : this with { Text = Text[..^1] },
        BelowKey => need.Lowest is null ? this : Below ? Empty : new Entry(need.Lowest, true),
        >= '0' and <= '9' => Digit(key, need),
        '.' when need.IsMeasured => Below || Text.Contains('.') || !IsComplete ? this : this with { Text = Text + '.' },
        '-' when need.IsMeasured => Below ? this : this with { Text = Text.StartsWith('-') ? Text[1..] : '-' + Text },
        _ => this,
    };

    private Entry Digit(char digit, NumberNeed need)
    {
        if (Below)
        {
            return new Entry(digit.ToString(), false);
        }

        return Text.Count(char.IsAsciiDigit) < need.MostDigits ? this with { Text = Text + digit } : this;
    }
}
