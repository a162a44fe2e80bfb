using Companion.Domain.Kit;
using CsCheck;

namespace Companion.Domain.Tests.Equipment;

public sealed class KitDatesTests
{
    [Theory]
    [InlineData("2026-05-25", "2026-11-25")]
    [InlineData("2026-08-31", "2027-02-28")]
    [InlineData("2027-08-31", "2028-02-29")]
    [InlineData("2026-03-31", "2026-09-30")]
    public void Gloves_in_use_are_in_date_for_six_calendar_months(string tested, string last) =>
        // 29 CFR 1910.137 Table I-5, published; month-end computed
        Assert.Equal(DateOnly.Parse(last), KitDates.LastDay(DateOnly.Parse(tested), DateOnly.Parse(tested)));

    [Fact]
    public void A_test_of_gloves_never_issued_holds_twelve_months() =>
        Assert.Equal(new DateOnly(2026, 11, 20), KitDates.LastDay(new(2025, 11, 20), null)); // 29 CFR 1910.137 Table I-5, published

    [Fact]
    public void The_six_months_run_from_the_issue_when_it_came_after_the_test() =>
        // 29 CFR 1910.137 Table I-5, published
        Assert.Equal(new DateOnly(2026, 10, 1), KitDates.LastDay(new(2026, 1, 10), new(2026, 4, 1)));

    [Fact]
    public void No_test_holds_longer_than_twelve_months_however_late_the_issue() =>
        Assert.Equal(new DateOnly(2027, 1, 10), KitDates.LastDay(new(2026, 1, 10), new(2026, 12, 1))); // our rule, stricter than the table

    [Fact]
    public void Without_a_test_there_is_no_last_day() => Assert.Null(KitDates.LastDay(null, new(2026, 1, 1)));

    [Fact]
    public void An_issue_never_lengthens_a_test_beyond_that_of_gloves_never_issued() =>
        Gen.Select(Gen.Int[0, 3000], Gen.Int[-900, 900]).Sample((day, later) =>
        {
            var tested = new DateOnly(2024, 1, 1).AddDays(day);
            return KitDates.LastDay(tested, tested.AddDays(later)) <= KitDates.LastDay(tested, null);
        });

    // Computed: a test after the issue counts from the test.
    [Fact]
    public void A_test_after_the_first_issue_counts_from_the_test() =>
        Assert.Equal(new DateOnly(2026, 10, 1), KitDates.LastDay(new(2026, 4, 1), new(2026, 1, 10)));
}
