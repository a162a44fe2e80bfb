"""The network: a stride-2 convolution, depth-wise residual blocks, bidirectional GRU layers, phones plus blank."""
import torch
from torch import nn


class Block(nn.Module):
    def __init__(self, width, inner, dilation, dropout):
        super().__init__()
        self.depth = nn.Conv1d(width, width, 7, padding=3 * dilation, dilation=dilation, groups=width)
        self.norm = nn.LayerNorm(width)
        self.up, self.down = nn.Linear(width, inner), nn.Linear(inner, width)
        self.dropout = nn.Dropout(dropout)

    def forward(self, x):                                   # [B, T, C]
        y = self.depth(x.transpose(1, 2)).transpose(1, 2)
        y = self.down(torch.relu(self.up(self.norm(y))))
        return x + self.dropout(y)


class Ear(nn.Module):
    def __init__(self, labels=40, bands=64, width=224, inner=320, hidden=192, layers=3, dilations=(1, 2, 4, 8), dropout=0.15):
        super().__init__()
        self.first = nn.Conv1d(bands, width, 5, stride=2, padding=2)
        self.first_norm = nn.LayerNorm(width)
        self.blocks = nn.ModuleList(Block(width, inner, dilation, dropout) for dilation in dilations)
        self.norm = nn.LayerNorm(width)
        self.gru = nn.GRU(width, hidden, layers, batch_first=True, bidirectional=True, dropout=dropout)
        self.dropout = nn.Dropout(dropout)
        self.head = nn.Linear(2 * hidden, labels)

    def forward(self, features):                            # [B, T, 64] -> [B, (T + 1) / 2, labels]
        x = self.first(features.transpose(1, 2)).transpose(1, 2)
        x = torch.relu(self.first_norm(x))
        for block in self.blocks:
            x = block(x)
        x, _ = self.gru(self.norm(x))
        return torch.log_softmax(self.head(self.dropout(x)).float(), -1)
