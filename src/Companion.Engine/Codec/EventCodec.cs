using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using Companion.Contracts;
using Companion.Domain.Events;
using Companion.Domain.Time;
using Companion.Engine.Codec.Upcasting;

namespace Companion.Engine.Codec;

/// <summary>Events to journal drafts and journal entries back to events. Member names are the records' own, in lower case.</summary>
public static class EventCodec
{
    private static readonly ConcurrentDictionary<Type, ImmutableArray<PropertyInfo>> Personals = new();

    /// <summary>The draft of an event. Personal texts leave the data and go where they can be erased.</summary>
    public static EntryDraft Draft(string chain, JobEvent happened, Moment moment)
    {
        var type = happened.GetType();
        var data = (JsonObject)JsonSerializer.SerializeToNode(happened, type, EventJson.Options)!;
        var personal = new Dictionary<string, string>();
        foreach (var property in PersonalOf(type))
        {
            var name = EventJson.NameOf(property.Name);
            data.Remove(name);
            if ((property.GetValue(happened) as Personal)?.Text is { } text)
            {
                personal[name] = text;
            }
        }

        return new EntryDraft(
            chain, EventTypes.NameOf(happened), moment.Wall, moment.BootId, moment.Boot.Nanoseconds, data.ToJsonString(EventJson.Options), personal);
    }

    /// <summary>The event of an entry; null when its type is none of a job's.</summary>
    /// <exception cref="JsonException">The data does not fit the type.</exception>
    /// <exception cref="FormatException">The entry is of a later version of the format.</exception>
    public static JobEvent? Read(JournalEntry entry) => Read(entry, Upcasters.Usual);

    /// <summary>The same, by other steps between the versions of the format than this program's own.</summary>
    public static JobEvent? Read(JournalEntry entry, Upcasters upcasters)
    {
        if (EventTypes.RecordOf(entry.Type) is not { } type)
        {
            return null;
        }

        var personal = PersonalOf(type);
        if (personal.IsEmpty && entry.Format == upcasters.Newest)
        {
            return (JobEvent)JsonSerializer.Deserialize(entry.Data, type, EventJson.Options)!;
        }

        var data = (JsonObject)JsonNode.Parse(entry.Data)!;
        upcasters.Raise(entry, data);
        foreach (var property in personal)
        {
            var name = EventJson.NameOf(property.Name);
            if (data.Remove(name))
            {
                data[name] = new JsonObject { ["text"] = entry.Sealed.TryGetValue(name, out var text) ? text.Text : null };
            }
        }

        return (JobEvent)data.Deserialize(type, EventJson.Options)!;
    }

    private static ImmutableArray<PropertyInfo> PersonalOf(Type type) => Personals.GetOrAdd(
        type, static type => [.. type.GetProperties().Where(property => property.PropertyType == typeof(Personal))]);

    /// <summary>The moment of an entry. CLOCK_MONOTONIC is not part of an entry and is zero here.</summary>
    public static Moment MomentOf(JournalEntry entry) => new(entry.Time, entry.BootId, new Ticks(entry.Uptime), Ticks.Zero);
}
