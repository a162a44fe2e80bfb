using Companion.Papers.Coding;
using Companion.Review;
using Companion.Review.Listening;
using Microsoft.AspNetCore.Http;

namespace Companion.Pages.Record;

/// <summary>How a head shows records.</summary>
/// <param name="Root">The address of the list, "/record" or "/jobs".</param>
/// <param name="Back">What the link back to the head's own first page says; empty where there is no such page.</param>
public sealed record RecordHead(string Root, string Back)
{
    /// <summary>False while records may not be shown: the page then leads back. Asked on every request, from any thread.</summary>
    public Func<bool> MayLook { get; init; } = () => true;

    /// <summary>Speaks a prompt again, as a WAV file; null where this machine makes no speech. Any thread.</summary>
    public Func<string, byte[]?> Speak { get; init; } = _ => null;

    /// <summary>Told before a record or a paper of it is shown, and which ("record", "handover" ...), so that who looked can be written down first. Any thread.</summary>
    public Func<HttpContext, RecordName, string, Task> Looked { get; init; } = (_, _, _) => Task.CompletedTask;

    /// <summary>Told before a part of a record is given out that its page asks for, many a second. Any thread.</summary>
    public Func<HttpContext, RecordName, Task> Peeked { get; init; } = (_, _) => Task.CompletedTask;

    /// <summary>The signed code of a record's papers; null where nobody can sign. Any thread.</summary>
    public Func<RecordName, RecordedJob, PaperCode?> Code { get; init; } = (_, _) => null;

    /// <summary>The clock that papers are dated by.</summary>
    public TimeProvider Time { get; init; } = TimeProvider.System;

    /// <summary>Recorded sound that may be heard; null where none may, as on a tablet.</summary>
    public SoundShelf? Sound { get; init; }

    /// <summary>Told before recorded sound is given out, so that who listened can be written down first. Any thread.</summary>
    public Func<HttpContext, RecordName, Task> Listened { get; init; } = (_, _) => Task.CompletedTask;

    /// <summary>What people call the tablet of a record.</summary>
    public Func<RecordName, string> Called { get; init; } = name => name.Device;

    /// <summary>Links in the page's head that only this head has, by their words.</summary>
    public Func<RecordName, IReadOnlyList<(string Words, string Address)>> Links { get; init; } = _ => [];

    /// <summary>A script of the head's own that every page carries; null for none.</summary>
    public string? Script { get; init; }

    /// <summary>The address of a record.</summary>
    public string AddressOf(RecordName name) => name.Device.Length == 0 ? $"{Root}/{name.Chain}" : $"{Root}/{name.Device}/{name.Chain}";
}

/// <summary>A record that is being looked at.</summary>
/// <param name="Name">Which.</param>
/// <param name="Job">The record.</param>
/// <param name="Address">Its page's address.</param>
public sealed record RecordSight(RecordName Name, RecordedJob Job, string Address);
