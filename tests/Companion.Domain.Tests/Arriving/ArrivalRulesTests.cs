using Companion.Domain.Arrival;
using Companion.TestKit;

namespace Companion.Domain.Tests.Arriving;

public sealed class ArrivalRulesTests
{
    [Fact]
    public void A_list_that_covers_everything_may_be_used() => Assert.Empty(ArrivalRules.Faults(DemoArrival.Complete()));

    [Theory]
    [InlineData(Concern.Fire)]
    [InlineData(Concern.Implant)]
    [InlineData(Concern.Traffic)]
    public void A_concern_that_is_left_out_is_a_fault(Concern concern)
    {
        var list = DemoArrival.Complete();
        var fault = Assert.Single(ArrivalRules.Faults(list with { Items = [.. list.Items.Where(item => item.Concern != concern)] }));
        Assert.Contains(concern.ToString().ToLowerInvariant(), fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(Leads.Note)]
    [InlineData(Leads.Stop)]
    public void Fire_leads_to_nothing_but_the_stand_off(Leads leads)
    {
        var list = DemoArrival.Complete();
        var changed = list with { Items = [.. list.Items.Select(item => item.Concern == Concern.Fire ? item with { Leads = leads } : item)] };
        Assert.EndsWith(".leads", Assert.Single(ArrivalRules.Faults(changed)).Path, StringComparison.Ordinal);
    }

    // 50 ft = 15.24 m (NHTSA interim guidance and SAE J2990, P/S); 15.2 m fails.
    [Theory]
    [InlineData(1520, 1)]
    [InlineData(1524, 0)]
    public void A_stand_off_under_fifty_feet_is_a_fault(int centimetres, int faults) =>
        Assert.Equal(faults, ArrivalRules.Faults(DemoArrival.Complete() with { StandOffCentimetres = centimetres }).Count());

    [Fact]
    public void Two_items_of_one_id_and_a_remedy_without_words_are_faults()
    {
        var list = DemoArrival.Complete();
        var cable = list.Items.Single(item => item.Concern == Concern.ChargingCable);
        var faults = ArrivalRules.Faults(list with { Items = [.. list.Items, cable with { Then = null }] }).Select(fault => fault.Path).ToList();
        Assert.Equal(["items[16].id", "items[16].then"], faults);
    }
}
