using Companion.Domain.Deciding;
using Companion.Screens.Showing;
using Companion.Screens.Starting;
using Companion.Screens.Tests.Support;

namespace Companion.Screens.Tests;

public sealed class StartTests
{
    [Fact]
    public void A_job_at_another_vehicle_of_the_same_event_is_linked_to_the_one_before()
    {
        var choice = new StartChoice("maren", "della", "standard");
        Assert.Null(Opener.Open(ScreenBench.Opening, choice, "job-before")!.Linked);
        Assert.Equal("job-before", Opener.Open(ScreenBench.Opening, choice with { SameEvent = true }, "job-before")!.Linked);
    }

    [Fact]
    public void A_job_is_opened_by_choosing_three_things_and_a_hold()
    {
        var screen = new ScreenBench();
        screen.Settle();
        Assert.Equal(ViewKind.Start, screen.Screen.View.Kind);
        screen.Touch("technician:maren");
        screen.Touch("secondperson:della");
        screen.Touch("kit:standard");

        screen.Touch(Target.Open, 200);
        Assert.Empty(screen.Posted);
        screen.Touch(Target.Open, 1300);

        var open = Assert.IsType<OpenJob>(Assert.Single(screen.Posted));
        Assert.Equal(("job-new", "maren", "Maren Oake", "Della Frome"), (open.JobId, open.Technician, open.Name, open.SecondPerson));
        Assert.NotEmpty(open.Kit);
    }

    [Fact]
    public void Alone_must_be_chosen_and_is_never_assumed()
    {
        var choice = StartChoice.None.WithTechnician("maren") with { Kit = "standard" };

        Assert.Null(Opener.Open(ScreenBench.Opening, choice));
        Assert.Null(Opener.Open(ScreenBench.Opening, choice with { SecondPerson = string.Empty })!.SecondPerson);
    }

    [Fact]
    public void Nobody_stands_by_for_themselves()
    {
        var choice = new StartChoice("maren", "tobin", "standard").WithTechnician("tobin");

        Assert.Equal("Choose the second person, or alone", choice.Missing);
    }
}
