namespace Companion.Sheets.Tests;

public sealed class SheetReaderTests
{
    private static readonly string Good = Seeds.Text("tarnbeck-pipit");

    [Theory]
    // Form: the schema.
    [InlineData("link, seconds: 600", "link, seconds: 59", "waits[1].seconds", "59 does not fit. Write the maker's time of 60 seconds or more, or mark the sheet with rehearsalonly: true.")]
    [InlineData("link, seconds: 600", "link, seconds: 10 min", "waits[1].seconds", "\"10 min\" does not fit. Write the maker's time in whole seconds, 1 to 86400, without a unit.")]
    [InlineData("link, seconds: 600", "link, second: 600", "waits[1].second", "The key 'second' is not known here. Correct it or take it out; known are id, name, circuit, seconds.")]
    [InlineData("link, seconds: 600", "link", "waits[1].seconds", "The key 'seconds' is missing. Add it: the maker's time in whole seconds")]
    [InlineData("{ id: link, name: link }", "{ id: link, name: link, microfarads: 0 }", "circuits[0].microfarads", "Write whole microfarads from 1 to 100000, without a unit, if")]
    [InlineData("{ id: link, name: link }", "{ id: link, name: link, microfarads: 680.5 }", "circuits[0].microfarads", "Write whole microfarads from 1 to 100000, without a unit, if")]
    [InlineData("kind: loop", "kind: looop", "points[3].kind", "\"looop\" does not fit. Write one of key, lowvolt, plug, loop, inlet, engine, other.")]
    [InlineData("kind: loop", "kind: 4", "points[3].kind", "4 does not fit. Write one of key")]
    [InlineData("kind: loop", "kind:", "points[3].kind", "An empty value does not fit. Write one of key")]
    [InlineData("limitdc: \"12\"", "limitdc: 12", "testplaces[0].limitdc", "12 does not fit. Write volts in quotes, without a unit")]
    [InlineData("limitdc: \"12\"", "limitdc: \"12 V\"", "testplaces[0].limitdc", "\"12 V\" does not fit. Write volts in quotes, without a unit")]
    [InlineData("limitdc: \"12\"", "limitdc: \"12,5\"", "testplaces[0].limitdc", "such as \"12\" or \"0.5\"")]
    [InlineData("limitdc: \"12\"", "limitdc: \"-12\"", "testplaces[0].limitdc", "such as \"12\" or \"0.5\"")]
    [InlineData("highestvolts: 410", "highestvolts: 410 V", "highestvolts", "Write whole volts DC from 1 to 1500, without a unit")]
    [InlineData("highestvolts: 410", "highestvolts: 1501", "highestvolts", "Write whole volts DC from 1 to 1500")]
    [InlineData("highestvolts: 410", "highestvolts: \"400 kV\"", "highestvolts", "\"400 kV\" does not fit. Write whole volts DC from 1 to 1500, without a unit")]
    [InlineData("highestvolts: 410", "highestvolts: 0", "highestvolts", "Write whole volts DC from 1 to 1500")]
    [InlineData("link, seconds: 600", "link, seconds: 5min", "waits[1].seconds", "\"5min\" does not fit. Write the maker's time in whole seconds, 1 to 86400, without a unit.")]
    [InlineData("link, seconds: 600", "link, seconds: 0", "waits[1].seconds", "0 does not fit. Write the maker's time")]
    [InlineData("windowseconds: 600", "windowseconds: 10 min", "testplaces[0].windowseconds", "Write whole seconds from 1 to 3600, without a unit.")]
    [InlineData("reviewby: \"2027-08-31\"", "reviewby: \"2027-08-31\"\n  attachment: ../manual.pdf", "source.attachment", "Write the plain name of a PDF file beside the sheet")]
    [InlineData("reviewby: \"2027-08-31\"", "reviewby: \"2027-08-31\"\n  attachment: manual.exe", "source.attachment", "Write the plain name of a PDF file beside the sheet")]
    [InlineData("number: 1", "number: 100", "number", "Write a whole number from 1 to 99")]
    [InlineData("number: 1", "number: 1.5", "number", "Write a whole number from 1 to 99")]
    [InlineData("2027-08-31", "2027-02-29", "source.reviewby", "Write a day in quotes, year first")]
    [InlineData("lockable: true", "lockable: yes", "points[2].lockable", "Write true or false, without quotes.")]
    [InlineData("for: [plug]", "for: plug", "alternatives[0].for", "Write a list of ids in square brackets, each once.")]
    [InlineData("for: [plug]", "for: [Plug]", "alternatives[0].for[0]", "Write an id that starts with a-z")]
    [InlineData("what: lowvoltrestored", "what: unwatched", "disturbances[0].what", "Write one of keyon")]
    // Meaning: the rules.
    [InlineData("limitdc: \"12\"", "limitdc: \"60.1\"", "testplaces[0].limitdc", "above the ceiling of 60 volts. Write the maker's limit, at most \"60\".")]
    [InlineData("limitac: \"12\"", "limitac: \"30.1\"", "testplaces[0].limitac", "above the ceiling of 30 volts. Write the maker's limit, at most \"30\".")]
    [InlineData("circuit: link, seconds", "circuit: lnk, seconds", "waits[1].circuit", "There is no circuit 'lnk' in this sheet. Use one of link, restraint, or add it.")]
    [InlineData("kind: wait, wait: link, say", "kind: wait, wait: lnk, say", "steps[7].wait", "There is no wait 'lnk' in this sheet.")]
    [InlineData("{ id: loop, name", "{ id: plug, name", "points[3].id", "There are two points with the id 'plug'. Give one of them another id.")]
    [InlineData("{ id: cover, kind", "{ id: plug, kind", "steps[5].id", "There are two steps with the id 'plug'.")]
    [InlineData("{ id: restraint, name: restraint system }", "{ id: link, name: restraint system }", "circuits[1].id", "There are two circuits with the id 'link'.")]
    [InlineData("{ id: link, name: link, circuit: link", "{ id: restraint, name: link, circuit: link", "waits[1].id", "There are two waits with the id 'restraint'.")]
    [InlineData("{ id: negative, name", "{ id: positive, name", "testplaces[0].pairs[2].id", "There are two pairs with the id 'positive'.")]
    [InlineData("limitdc: \"12\"", "limitdc: \"0\"", "testplaces[0].limitdc", "Write the maker's limit in volts, over zero.")]
    [InlineData("id: cutloop\n", "id: main\n", "alternatives[0].id", "Give the alternative another id.")]
    [InlineData("for: [plug]", "for: [looptest]", "alternatives[0].for[0]", "Name a step of the main way or of an alternative further up.")]
    public void A_slip_is_reported_on_its_line_with_its_path_and_a_mend(string from, string to, string path, string mend)
    {
        Assert.Contains(from, Good, StringComparison.Ordinal);
        var at = Good.IndexOf(from, StringComparison.Ordinal);
        var broken = Good[..at] + to + Good[(at + from.Length)..];

        var reading = SheetReader.Read(broken);

        Assert.Null(reading.Sheet);
        var problem = reading.Problems.Single(one => one.Path == path);
        Assert.Contains(mend, problem.Message, StringComparison.Ordinal);
        var added = to.LastIndexOf(path.Split('.')[^1], StringComparison.Ordinal);
        var before = Good[..at] + (path == "source.attachment" ? to[..added] : "");
        Assert.Equal(before.Count(letter => letter == '\n') + 1, problem.Line); // computed from the text
    }

    // A point that would wait for itself: the wait starts only when the point is open, and the point is opened only after the wait.
    [Fact]
    public void A_point_that_waits_for_itself_is_refused_on_the_line_of_the_wait()
    {
        var lines = Good.Split('\n').ToList();
        var plug = lines.Single(line => line.Contains("{ id: plug, kind: open", StringComparison.Ordinal));
        lines.Remove(plug);
        var wait = lines.FindIndex(line => line.Contains("{ id: linkwait,", StringComparison.Ordinal));
        lines.Insert(wait + 1, plug);

        var problem = SheetReader.Read(string.Join('\n', lines)).Problems.Single(one => one.Path.EndsWith(".wait", StringComparison.Ordinal));

        Assert.Equal(wait + 1, problem.Line); // computed from the text
        Assert.Contains("The wait 'link' could never be over here: it starts only when 'plug' is open too", problem.Message, StringComparison.Ordinal);
        Assert.Contains("Put the wait after it, or correct the circuits that 'plug' feeds.", problem.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("2027-08-31", false)]
    [InlineData("2027-09-01", true)]
    public void A_stale_sheet_is_sound_with_a_caution_on_the_line_of_its_review_date(string today, bool stale)
    {
        var reading = SheetReader.ReadFile(Path.Combine(Seeds.SheetFolder, "tarnbeck-pipit.yaml"), DateOnly.Parse(today, null));
        Assert.NotNull(reading.Sheet);
        Assert.Equal(stale ? ["line 10, source.reviewby: The sheet was to be reviewed by 31 August 2027, and no job takes it any more. "
            + "Compare it with the maker's present document, then raise the edition and give a new day."] : [], reading.Cautions.Select(caution => caution.ToString()));
    }

    [Fact]
    public void A_sheet_that_says_no_class_b_says_so_to_whoever_checks_it() =>
        Assert.Equal("highestvolts", Assert.Single(SheetReader.Read(Seeds.Text("fennick-siskin")).Cautions).Path);

    [Fact]
    public void A_missing_key_is_reported_on_the_line_of_what_lacks_it()
    {
        var problem = SheetReader.Read(Good.Replace("    windowseconds: 600\n", "", StringComparison.Ordinal)).Problems.Single();
        Assert.Equal("testplaces[0].windowseconds", problem.Path);
        Assert.Equal(32, problem.Line); // counted: "  - id: inverter"
        Assert.Equal("The key 'windowseconds' is missing. Add it: whole seconds from 1 to 3600, without a unit.", problem.Message);
    }

    [Fact]
    public void All_slips_are_reported_at_once_in_the_order_of_lines()
    {
        var broken = Good.Replace("kind: loop", "kind: rope", StringComparison.Ordinal).Replace("number: 1", "number: 0", StringComparison.Ordinal);
        Assert.Equal(["number", "points[3].kind"], SheetReader.Read(broken).Problems.Select(problem => problem.Path));
    }

    [Fact]
    public void A_missing_step_is_reported_at_the_list_of_steps()
    {
        var line = Good.Split('\n').Single(each => each.Contains("id: test,", StringComparison.Ordinal)) + "\n";
        var problems = SheetReader.Read(Good.Replace(line, "", StringComparison.Ordinal)).Problems;
        Assert.Contains(problems, problem => problem is { Path: "steps", Line: 47 } && problem.Message.Contains("Add the dead test", StringComparison.Ordinal));
    }

    [Fact]
    public void A_short_wait_is_taken_in_a_sheet_for_rehearsals() =>
        Assert.Empty(SheetReader.Read(Good.Replace("seconds: 180", "seconds: 59", StringComparison.Ordinal) + "\nrehearsalonly: true\n").Problems);

    [Fact]
    public void A_file_that_is_not_there_is_a_problem_not_a_crash()
    {
        var problem = SheetReader.ReadFile(Path.Combine(Seeds.Folder, "nothing.yaml")).Problems.Single();
        Assert.Equal(1, problem.Line);
        Assert.Contains("Check its name and that you may read it.", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_problem_prints_as_one_line() =>
        Assert.Equal("line 3, number: 0 does not fit. Write a whole number from 1 to 99, by which the sheet is called.",
            SheetReader.Read(Good.Replace("number: 1", "number: 0", StringComparison.Ordinal)).Problems.Single().ToString());
}
