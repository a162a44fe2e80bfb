namespace Companion.TestKit;

/// <summary>A small file that claims to be a huge picture.</summary>
public static class HugePicture
{
    /// <summary>A whole PNG file whose head claims 60,000 by 60,000 points, 3.6 thousand million; made and checksummed by Python's zlib.</summary>
    public static byte[] Png() => Convert.FromHexString("89504e470d0a1a0a0000000d494844520000ea600000ea600800000000a5b92a9e0000005149444154789cedc13101000000c2a0f54f6d0d0fa000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000ce0cea610001b7c17dd70000000049454e44ae426082");
}
