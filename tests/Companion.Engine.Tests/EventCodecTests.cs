using System.Collections;
using System.Collections.Immutable;
using System.Reflection;
using System.Text.Json.Nodes;
using Companion.Contracts;
using Companion.Domain;
using Companion.Domain.Events;
using Companion.Domain.Kit;
using Companion.Domain.Sheets;
using Companion.Domain.Time;
using Companion.Engine.Codec;
using Companion.TestKit;

namespace Companion.Engine.Tests;

/// <summary>Every event to the journal's text and back.</summary>
public sealed class EventCodecTests
{
    private const string Secret = "Ines Marit Ferraz";

    public static TheoryData<string> Types()
    {
        var data = new TheoryData<string>();
        foreach (var type in All)
        {
            data.Add(type.Name);
        }

        return data;
    }

    private static IEnumerable<Type> All => typeof(JobEvent).Assembly.GetTypes().Where(type => type.IsSubclassOf(typeof(JobEvent)) && !type.IsAbstract);

    [Fact]
    public void Every_event_has_a_name_of_the_format_and_every_name_an_event()
    {
        Assert.Equal(All.Select(type => type.Name).Order(), EventTypes.Names.Select(name => EventTypes.RecordOf(name)!.Name).Order());
        Assert.All(EventTypes.Names, name => Assert.Matches("^[a-z]+\\.[a-z]+$", name));
    }

    // I13
    [Theory]
    [MemberData(nameof(Types))]
    public async Task An_event_comes_back_from_the_journal_as_it_went(string name)
    {
        foreach (var bare in new[] { false, true })
        {
            var written = (JobEvent)Make(All.First(type => type.Name == name), bare);
            var entry = await Written(written);
            var read = EventCodec.Read(entry)!;
            Assert.Equal(name, read.GetType().Name);
            Assert.All(read.GetType().GetProperties(), property => Assert.Equal(Described(property.GetValue(written)), Described(property.GetValue(read))));
            Assert.Equal(EventCodec.Draft("job-1", written, new DemoTime().Now), EventCodec.Draft("job-1", read, new DemoTime().Now), DraftComparer.Same);
        }
    }

    // The journal's form: numbers are whole, names are a-z and 0-9.
    [Theory]
    [MemberData(nameof(Types))]
    public void Names_are_lower_case_and_no_number_has_a_fraction(string name) =>
        Check(JsonNode.Parse(EventCodec.Draft("job-1", (JobEvent)Make(All.First(type => type.Name == name), false), new DemoTime().Now).Data)!);

    // Personal data never enters the chain, comes back while it is kept, and is nothing after erasure.
    [Theory]
    [MemberData(nameof(Types))]
    public async Task Personal_texts_stay_out_of_the_chain_and_can_be_erased(string name)
    {
        var type = All.First(one => one.Name == name);
        var personal = type.GetProperties().Where(property => property.PropertyType == typeof(Personal)).ToList();
        var written = (JobEvent)Make(type, false);
        var journal = new MemoryJournal();
        await journal.AppendAsync([EventCodec.Draft("job-1", written, new DemoTime().Now)]);
        Assert.DoesNotContain(Secret, journal.All[0].Data, StringComparison.Ordinal);
        Assert.Equal(personal.Count, journal.All[0].Sealed.Count);

        journal.EraseSealed();
        var erased = EventCodec.Read(journal.All[0])!;
        Assert.All(personal, property => Assert.Equal(new Personal(null), property.GetValue(erased)));
    }

    [Fact]
    public void An_entry_of_an_unknown_type_is_no_event() => Assert.Null(EventCodec.Read(new JournalEntry(
        "job-1", 1, "head.signed", DemoTime.Start, "boot-1", 1, false, "{}", "", "", default, new Dictionary<string, SealedText>())));

    /// <summary>Lists are compared by what is in them; a sheet by the text of its draft.</summary>
    private static string? Described(object? value) => value switch
    {
        string text => text,
        IEnumerable items => string.Join('|', items.Cast<object>().Select(Described)),
        Sheet sheet => SheetJson.Write(sheet).ToJsonString(),
        _ => value?.ToString(),
    };

    private static void Check(JsonNode node)
    {
        switch (node)
        {
            case JsonObject members:
                Assert.All(members, member =>
                {
                    Assert.Matches("^[a-z0-9]+$", member.Key);
                    Check(member.Value!);
                });
                break;
            case JsonArray items:
                Assert.All(items, item => Check(item!));
                break;
            case JsonValue value when value.GetValueKind() == System.Text.Json.JsonValueKind.Number:
                Assert.DoesNotContain('.', value.ToJsonString());
                break;
        }
    }

    private static async Task<JournalEntry> Written(JobEvent written)
    {
        var entries = await new MemoryJournal().AppendAsync([EventCodec.Draft("job-1", written, new DemoTime().Now)]);
        return entries[0];
    }

    private static object Make(Type type, bool bare)
    {
        var constructor = type.GetConstructors().OrderByDescending(one => one.GetParameters().Length).First();
        var nullability = new NullabilityInfoContext();
        return constructor.Invoke([.. constructor.GetParameters().Select(parameter =>
            bare && nullability.Create(parameter).WriteState == NullabilityState.Nullable ? null : Value(parameter.ParameterType))]);
    }

    private static object Value(Type type)
    {
        type = Nullable.GetUnderlyingType(type) ?? type;
        return type switch
        {
            _ when type == typeof(string) => "a \"text\" with é, 電 and a line\nbreak",
            _ when type == typeof(long) => 4_000_000_000L,
            _ when type == typeof(int) => 900,
            _ when type == typeof(bool) => true,
            _ when type == typeof(Ticks) => new Ticks(123_456_789_012_345_678),
            _ when type == typeof(Companion.Domain.Electrical.Volts) => new Companion.Domain.Electrical.Volts(-12_345),
            _ when type == typeof(Personal) => new Personal(Secret),
            _ when type == typeof(Sheet) => DemoSheets.Van(),
            _ when type == typeof(Companion.Domain.Arrival.ArrivalList) => DemoArrival.Complete(),
            _ when type == typeof(Companion.Domain.CheckIn.CheckInPolicy) => DemoWatch.ByPhase() with { Quiet = null },
            _ when type == typeof(DateTimeOffset) => DemoTime.Start.AddTicks(1_234_567),
            _ when type.IsEnum => Enum.GetValues(type).GetValue(Enum.GetValues(type).Length - 1)!,
            _ when type == typeof(ImmutableArray<KitItem>) => DemoKit.Complete(),
            _ when type.IsAssignableTo(typeof(ITextId)) => Activator.CreateInstance(type, "some-id")!,
            _ when type.IsGenericType && type.GetGenericTypeDefinition() == typeof(ImmutableArray<>) => List(type.GetGenericArguments()[0]),
            _ => throw new NotSupportedException(type.Name),
        };
    }

    private static object List(Type item)
    {
        var items = Array.CreateInstance(item, 2);
        ((IList)items)[0] = Value(item);
        ((IList)items)[1] = Value(item);
        return typeof(ImmutableArray).GetMethods().First(method => method.Name == "Create" && method.GetParameters() is [{ ParameterType.IsArray: true }])
            .MakeGenericMethod(item).Invoke(null, [items])!;
    }

    private sealed class DraftComparer : IEqualityComparer<EntryDraft>
    {
        public static readonly DraftComparer Same = new();

        public bool Equals(EntryDraft? left, EntryDraft? right) => left!.Data == right!.Data && left.Type == right.Type
            && left.Personal.OrderBy(pair => pair.Key).SequenceEqual(right.Personal.OrderBy(pair => pair.Key));

        public int GetHashCode(EntryDraft draft) => draft.Type.GetHashCode(StringComparison.Ordinal);
    }
}
