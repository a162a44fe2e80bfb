using Companion.Screens.Answering;

namespace Companion.Screens.Tests;

public sealed class EntryTests
{
    private static readonly NumberNeed Reading = new(NumberKind.Reading, "rails", 7, "6");
    private static readonly NumberNeed Lock = new(NumberKind.Lock, "lock", 4, null);

    [Theory]
    [InlineData("12.5", "12.5", true)]
    [InlineData("1-2", "-12", true)]
    [InlineData("--5", "5", true)]
    [InlineData(".5", "5", true)]
    [InlineData("1.2.3", "1.23", true)]
    [InlineData("12.", "12.", false)]
    [InlineData("12<", "1", true)]
    [InlineData("b", "6", true)]
    [InlineData("b3", "3", true)]
    [InlineData("123456789", "1234567", true)]
    public void Keys_make_a_reading(string keys, string text, bool complete)
    {
        var entry = keys.Aggregate(Entry.Empty, (typed, key) => typed.With(key, Reading));

        Assert.Equal((text, complete), (entry.Text, entry.IsComplete));
    }

    [Fact]
    public void Below_is_said_with_the_lowest_indication_and_taken_back_whole()
    {
        var below = Entry.Empty.With(Entry.BelowKey, Reading);

        Assert.Equal(new Entry("6", true), below);
        Assert.Equal(Entry.Empty, below.With(Entry.Back, Reading));
        Assert.Equal(Entry.Empty, below.With(Entry.BelowKey, Reading));
    }

    [Fact]
    public void A_lock_number_is_digits_only() =>
        Assert.Equal("1234", "1-2.3b45".Aggregate(Entry.Empty, (typed, key) => typed.With(key, Lock)).Text);
}
