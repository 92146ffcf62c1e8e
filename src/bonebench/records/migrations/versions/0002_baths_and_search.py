"""Baths as things, and the species of each specimen: kept where queries find them."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table('bath_now',
    sa.Column('id', sa.String(), nullable=False),
    sa.Column('place', sa.String(), nullable=True),
    sa.Column('live', sa.Boolean(), nullable=False),
    sa.Column('state', sa.JSON(), nullable=False),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_bath_now'))
    )
    op.create_index(op.f('ix_bath_now_place'), 'bath_now', ['place'], unique=False)
    op.create_index(op.f('ix_bath_now_live'), 'bath_now', ['live'], unique=False)
    with op.batch_alter_table('specimen_now') as changed:
        changed.add_column(sa.Column('species', sa.String(), nullable=True))
        changed.create_index(op.f('ix_specimen_now_species'), ['species'], unique=False)


def downgrade() -> None:
    """Take the table away; `book rebuild` can fill it again."""
    with op.batch_alter_table('specimen_now') as changed:
        changed.drop_index(op.f('ix_specimen_now_species'))
        changed.drop_column('species')
    op.drop_index(op.f('ix_bath_now_live'), table_name='bath_now')
    op.drop_index(op.f('ix_bath_now_place'), table_name='bath_now')
    op.drop_table('bath_now')
