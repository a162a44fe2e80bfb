using Companion.Domain.Electrical;
using Companion.Domain.Events;
using Companion.Domain.Kit;

namespace Companion.Review.Remarking;

/// <summary>Equipment near its date, a sheet past its review, readings near or above their limit.</summary>
internal static class FitnessRemarks
{
    public static IEnumerable<Remark> Of(RemarkBook book) => Kit(book).Concat(Sheets(book)).Concat(Readings(book));

    private static IEnumerable<Remark> Kit(RemarkBook book)
    {
        foreach (var (at, looked) in book.Of<KitChecked>().Where(looked => looked.Event.Ok).DistinctBy(looked => looked.Event.Item))
        {
            var item = book.Opened is { Kit.IsDefault: false } opened ? opened.Kit.FirstOrDefault(known => known.Id == looked.Item) : null;
            var day = DayOf(at);
            if (item is not null && LastDay(item) is { } last && last.DayNumber - day.DayNumber is var left && left is >= 0 and <= RemarkLimits.NearDateDays)
            {
                yield return RemarkBook.About(
                    RemarkKind.KitNearDate,
                    RemarkWeight.Known,
                    [at],
                    $"{item.Name} was in date until {last:d MMMM yyyy}, {(left == 0 ? "the day of the job" : left == 1 ? "one day later" : $"{left} days later")}. Remarked from {RemarkLimits.NearDateDays} days before.");
            }
        }
    }

    private static DateOnly? LastDay(KitItem item)
    {
        var tested = item.Kind == KitKind.Gloves ? KitDates.LastDay(item.Tested, item.FirstIssue) : null;
        return tested is { } test && !(item.Due < test) ? test : item.Due;
    }

    private static IEnumerable<Remark> Sheets(RemarkBook book)
    {
        foreach (var (at, pinned) in book.Of<SheetPinned>().Where(pinned => pinned.Event.Sheet?.Source is { } source && source.IsOverdue(DayOf(pinned.At))))
        {
            var days = DayOf(at).DayNumber - pinned.Sheet.Source.ReviewBy.DayNumber;
            yield return RemarkBook.About(
                RemarkKind.SheetPastReview,
                RemarkWeight.First,
                [at],
                $"The sheet {pinned.Sheet.Id}, edition {pinned.Sheet.Edition}, was to be compared with the maker's method by {pinned.Sheet.Source.ReviewBy:d MMMM yyyy}; by the tablet's clock that was {days} {(days == 1 ? "day" : "days")} before.");
        }
    }

    private static IEnumerable<Remark> Readings(RemarkBook book)
    {
        foreach (var (at, reading) in book.Of<ReadingTaken>().Where(taken => taken.Event is { Purpose: ReadingPurpose.DeadTest, Volts: not null }))
        {
            var place = book.SheetAt(at)?.TestPlaces.FirstOrDefault(place => place.Id == reading.TestPlace);
            if (place is null)
            {
                continue;
            }

            var (volts, limit) = (reading.Volts!.Value, place.Limit(reading.Kind));
            if (!VoltageLimits.Passes(volts, limit))
            {
                yield return RemarkBook.About(
                    RemarkKind.ReadingAboveLimit, RemarkWeight.First, [at], $"At {place.Name}, {reading.Pair}, {volts} V were read; the limit is {limit} V. The test ended as live.");
            }
            else if (volts.Magnitude.Millivolts >= limit.Millivolts / 100 * RemarkLimits.NearLimitPercent)
            {
                yield return RemarkBook.About(
                    RemarkKind.ReadingNearLimit,
                    RemarkWeight.Word,
                    [at],
                    $"At {place.Name}, {reading.Pair}, {volts} V were read; the limit is {limit} V, which passes. Remarked from {RemarkLimits.NearLimitPercent} % of the limit on.");
            }
        }
    }

    private static DateOnly DayOf(RecordedEntry entry) => DateOnly.FromDateTime(entry.Entry.Time.DateTime);
}
