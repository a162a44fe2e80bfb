using Companion.Domain.Sound;

namespace Companion.Sheets.Tests;

public sealed class SoundReaderTests
{
    private static string Seed => File.ReadAllText(Path.Combine(Seeds.Folder, "sound.yaml"));

    private static string On => Seed.Replace("record: false", "record: true", StringComparison.Ordinal);

    [Fact]
    public void The_seed_records_nothing()
    {
        var reading = SoundReader.Read(Seed);
        Assert.Empty(reading.Problems);
        Assert.Null(reading.Policy);
    }

    [Fact]
    public void An_order_says_for_how_long_and_by_whom() => Assert.Equal(new SoundPolicy(14, "Petra Ash"), SoundReader.Read(On).Policy);

    [Theory]
    [InlineData("record: true", "record: perhaps", "true or false")]
    [InlineData("retentiondays: 14", "retentiondays: 0", "a whole number of days, at least 1")]
    [InlineData("retentiondays: 14\n", "", "retentiondays")]
    [InlineData("approvedby: Petra Ash", "approvedby: \" \"", "a text of 1 to 40 characters")]
    [InlineData("approvedby: Petra Ash", "aprovedby: Petra Ash", "aprovedby")]
    public void An_order_that_must_not_be_used_says_what_to_mend(string from, string to, string expected)
    {
        var reading = SoundReader.Read(On.Replace(from, to, StringComparison.Ordinal));
        Assert.Null(reading.Policy);
        Assert.Contains(reading.Problems, problem => problem.ToString().Contains(expected, StringComparison.Ordinal) && problem.Line > 0);
    }

    [Fact]
    public void A_missing_file_is_a_problem_and_no_crash() => Assert.NotEmpty(SoundReader.ReadFile("/nowhere/sound.yaml").Problems);
}
