using System.Globalization;
using System.Text.Json.Nodes;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace Companion.Sheets.Files;

/// <summary>
/// Reads the plain part of YAML 1.2: one document of mappings, lists and scalars. Anchors, aliases and tags are refused, because a sheet
/// must say what it says where it says it, and because a few aliases can grow without end. Size, depth and count are bounded.
/// </summary>
internal sealed class YamlLoader
{
    /// <summary>Longest file in characters.</summary>
    public const int MostCharacters = 256 * 1024;

    /// <summary>Deepest nesting.</summary>
    public const int MostDepth = 12;

    /// <summary>Most keys and values in one file.</summary>
    public const int MostNodes = 20_000;

    private readonly LineMap lines = new();
    private readonly IParser parser;
    private int nodes;

    private YamlLoader(IParser parser) => this.parser = parser;

    /// <summary>The file's content, or the one problem that stopped the reading.</summary>
    public static (YamlFile? File, SheetProblem? Problem) Load(string text)
    {
        if (text.Length > MostCharacters)
        {
            return (null, new(1, "", $"The file is longer than {MostCharacters} characters. Take out what does not belong in it."));
        }

        var parser = new Parser(new StringReader(text));
        try
        {
            var loader = new YamlLoader(parser);
            return (new YamlFile(loader.Document(), loader.lines), null);
        }
        catch (RefusedException refused)
        {
            return (null, refused.Problem);
        }
        catch (YamlException fault)
        {
            return (null, NotYaml(fault.End.Line, fault.Message.Trim()));
        }
        catch (Exception fault) when (fault is InvalidOperationException or ArgumentException)
        {
            // YamlDotNet 18.1.0 gives up like this, without a place, on some broken text and tags.
            return (null, NotYaml(parser.Current?.End.Line ?? 1, "the text breaks off"));
        }
    }

    private static SheetProblem NotYaml(long line, string why) =>
        new((int)Math.Max(1, line), "", $"This is not well-formed YAML ({why}). Check indents, colons, brackets and quotes near this line.");

    private JsonObject Document()
    {
        parser.Consume<StreamStart>();
        if (parser.Accept<StreamEnd>(out _))
        {
            throw new RefusedException(1, "", "The file is empty. Start from one of the sheets supplied.");
        }

        parser.Consume<DocumentStart>();
        var root = Node("", 0) as JsonObject
            ?? throw new RefusedException(1, "", "The file must be a list of keys with values, such as \"id: my-sheet\".");
        parser.Consume<DocumentEnd>();
        if (!parser.TryConsume<StreamEnd>(out _))
        {
            throw new RefusedException(Line(parser.Current!), "", "The file holds a second document. Keep one document in one file.");
        }

        return root;
    }

    private JsonNode? Node(string path, int depth)
    {
        var next = parser.Consume<ParsingEvent>();
        Check(next, path, depth);
        return next switch
        {
            Scalar scalar => Value(scalar),
            MappingStart => Mapping(path, depth),
            SequenceStart => Sequence(path, depth),
            _ => throw new RefusedException(Line(next), path, "A value is missing here."),
        };
    }

    private void Check(ParsingEvent next, string path, int depth)
    {
        var named = next is AnchorAlias || next is NodeEvent { Anchor.IsEmpty: false };
        if (named)
        {
            throw new RefusedException(
                Line(next), path,
                "Anchors (&) and aliases (*) are not taken. Write the value out, or put it in quotes if it is text.");
        }

        if (next is NodeEvent { Tag.IsEmpty: false } or Scalar { Tag.IsEmpty: false })
        {
            throw new RefusedException(
                Line(next), path,
                "Tags (!) are not taken. Leave the tag out, or put the value in quotes if it is text.");
        }

        if (depth > MostDepth)
        {
            throw new RefusedException(Line(next), path, $"Values are nested deeper than {MostDepth} levels. Check the indents.");
        }

        if (++nodes > MostNodes)
        {
            throw new RefusedException(
                Line(next), path,
                $"The file holds more than {MostNodes} values. Take out what does not belong in it.");
        }
    }

    private JsonObject Mapping(string path, int depth)
    {
        var result = new JsonObject();
        while (!parser.TryConsume<MappingEnd>(out _))
        {
            var start = parser.Consume<ParsingEvent>();
            Check(start, path, depth);
            if (start is not Scalar key)
            {
                throw new RefusedException(Line(start), path, "A key must be a plain word.");
            }

            var inner = path.Length == 0 ? key.Value : $"{path}.{key.Value}";
            if (result.ContainsKey(key.Value))
            {
                throw new RefusedException(Line(key), inner, $"The key '{key.Value}' stands here twice. Keep one of them.");
            }

            lines.Set(inner, Line(key));
            result[key.Value] = Node(inner, depth + 1);
        }

        return result;
    }

    private JsonArray Sequence(string path, int depth)
    {
        var result = new JsonArray();
        while (!parser.TryConsume<SequenceEnd>(out _))
        {
            var inner = $"{path}[{result.Count}]";
            if (parser.Accept<ParsingEvent>(out var next))
            {
                lines.Set(inner, Line(next));
            }

            result.Add(Node(inner, depth + 1));
        }

        return result;
    }

    // The core schema of YAML 1.2, less octal and hexadecimal numbers, infinities and nulls by name, which no sheet needs.
    private static JsonValue? Value(Scalar scalar)
    {
        var text = scalar.Value;
        if (scalar.Style != ScalarStyle.Plain)
        {
            return JsonValue.Create(text);
        }

        return text is "" or "~" or "null" ? null
            : text is "true" or "false" ? JsonValue.Create(text == "true")
            : long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var whole) ? JsonValue.Create(whole)
            : decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var part)
                ? Number(part)
            : JsonValue.Create(text);
    }

    // A whole number stays one however it is written, as JSON Schema sees it.
    private static JsonValue Number(decimal part) =>
        part == decimal.Truncate(part) && part is >= long.MinValue and <= long.MaxValue ? JsonValue.Create((long)part) : JsonValue.Create(part);

    private static int Line(ParsingEvent at) => (int)Math.Max(1, at.Start.Line);

    private sealed class RefusedException(int line, string path, string message) : Exception(message)
    {
        public SheetProblem Problem { get; } = new(line, path, message);
    }
}
